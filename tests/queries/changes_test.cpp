#include "queries/changes.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <random>

#include "kg/model/fault.h"
#include "tests/kg/weigh/random_graph.h"
#include "tests/kg/weigh/small_graph.h"

using namespace saggar;
using testing::SmallGraph;

namespace {

ChangesAnswer since(SmallGraph& graph, std::uint64_t entry, double least = .01) {
    const auto before = graph.store().snapshot(entry);
    return changes(*before, graph.snapshot(), least);
}

// Every claim of a state with its support, weighed one by one.
std::map<ClaimRef, double> all_supports(const Snapshot& snapshot) {
    Weigher weigher(snapshot);
    std::map<ClaimRef, double> supports;
    snapshot.each_claim([&](const ClaimWithEvidence& claim) { supports[claim.claim.ref] = weigher.support(claim.claim.ref); });
    return supports;
}

// What the answer must be: everything weighed again at both entries.
std::map<ClaimRef, double> moved(const Snapshot& before, const Snapshot& after, double least) {
    const auto old_supports = all_supports(before), new_supports = all_supports(after);
    std::map<ClaimRef, double> by;
    for (const auto& [claim, support] : old_supports) by[claim] -= support;
    for (const auto& [claim, support] : new_supports) by[claim] += support;
    std::erase_if(by, [&](const auto& one) { return std::abs(one.second) <= least; });
    return by;
}

std::map<ClaimRef, double> told(const ChangesAnswer& answer) {
    std::map<ClaimRef, double> by;
    for (const ChangedClaim& one : answer.claims) by[one.claim] = one.moved();
    return by;
}

void check_same(const std::map<ClaimRef, double>& a, const std::map<ClaimRef, double>& b) {
    REQUIRE(a.size() == b.size());
    for (const auto& [claim, by] : a) {
        REQUIRE(b.count(claim) == 1);
        CHECK(b.at(claim) == Approx(by).margin(1e-12));
    }
}

}  // namespace

TEST_CASE("a new reading, its rival and what is argued from it are named with the cause", "[changes]") {
    SmallGraph graph;
    const Claim ennersley = graph.claim("modelled-by", "person:ennersley"), wrenholt = graph.claim("modelled-by", "person:wrenholt");
    const Claim follows = graph.claim("has-feature", "feature:cut-rim");
    const Claim apart = graph.claim("made-by", "maker:skerrow");
    graph.witness(ennersley, .8);
    graph.witness(wrenholt, .5);
    graph.witness(apart, .9);
    graph.argument({ennersley}, follows, .9);
    graph.write();
    const std::uint64_t before = graph.snapshot().entry();
    const Evidence letter = graph.witness(wrenholt, .9);
    graph.write();
    const ChangesAnswer answer = since(graph, before);
    REQUIRE(answer.claims.size() == 3);
    for (const ChangedClaim& one : answer.claims) {
        CHECK(one.claim != graph.ref(apart));
        REQUIRE(one.causes.size() == 1);
        CHECK(one.causes[0].what == ChangeCause::What::added);
        CHECK(one.causes[0].record == id_of(letter));
        CHECK(one.causes[0].entry == before + 1);
    }
    CHECK(answer.reached == 3);  // nothing else was weighed
}

TEST_CASE("a withdrawal is told with its reason; withdrawn and new claims count as unsupported on the other side", "[changes]") {
    SmallGraph graph;
    const Claim old_claim = graph.claim("treated-with", "treatment:a");
    const Evidence reading = graph.witness(old_claim, .8);
    const Claim kept = graph.claim("treated-with", "treatment:b");
    const Evidence withdrawn_reading = graph.witness(kept, .7);
    graph.witness(kept, .5);
    graph.write();
    const std::uint64_t before = graph.snapshot().entry();
    graph.add(Withdrawal{id_of(old_claim), "never said"});
    graph.add(Withdrawal{id_of(withdrawn_reading), "misread"});
    const Claim new_claim = graph.claim("treated-with", "treatment:c");
    graph.witness(new_claim, .6);
    graph.write();
    const ChangesAnswer answer = since(graph, before);
    REQUIRE(answer.claims.size() == 3);
    CHECK_FALSE(answer.claims[0].after);
    CHECK(answer.claims[0].support_before == Approx(.8));
    CHECK(answer.claims[0].causes[0].reason == "never said");
    CHECK_FALSE(answer.claims[1].before);
    CHECK(answer.claims[1].moved() == Approx(.6));
    CHECK(answer.claims[2].causes[0].what == ChangeCause::What::withdrawn);
    CHECK(answer.claims[2].causes[0].record == id_of(withdrawn_reading));
    CHECK(answer.claims[2].causes[0].reason == "misread");
    CHECK(answer.claims[2].moved() == Approx(.5 - .85));
}

TEST_CASE("a source described anew moves what is read in it, in its copies and in its family", "[changes]") {
    SmallGraph graph;
    Source& notice = graph.source("notice", .5);
    notice.family = "the-trade";
    Source& guide = graph.source("guide", .9);
    guide.copied_from.push_back({"source:notice", 1, 1});
    Source& other = graph.source("other", .3);
    other.family = "the-trade";
    other.family_kind = "author";
    const Claim a = graph.claim("treated-with", "treatment:a"), b = graph.claim("treated-with", "treatment:b"), c = graph.claim("treated-with", "treatment:c");
    graph.reading(a, "notice");
    graph.reading(b, "guide");
    graph.reading(c, "other");
    graph.reading(c, "notice");
    graph.write();
    const std::uint64_t before = graph.snapshot().entry();
    notice.reliability = .9;
    graph.write();
    const ChangesAnswer answer = since(graph, before);
    check_same(told(answer), moved(*graph.store().snapshot(before), graph.snapshot(), .01));
    CHECK(answer.claims.size() == 3);
    for (const ChangedClaim& one : answer.claims) {
        REQUIRE(one.causes.size() == 1);
        CHECK(one.causes[0].what == ChangeCause::What::described);
        CHECK(graph.snapshot().key_of(one.causes[0].source) == "source:notice");
    }
}

TEST_CASE("accepting an identity moves what was said under either name", "[changes]") {
    SmallGraph graph;
    const Claim here = graph.claim("modelled-by", "person:a", "shape:pinnace"), there = graph.claim("modelled-by", "person:b", "shape:pinnace-ware");
    const Claim identity = graph.claim("same-as", "shape:pinnace-ware", "shape:pinnace");
    graph.witness(here, .9);
    graph.witness(there, .6);
    graph.witness(identity, .8);
    graph.write();
    const std::uint64_t before = graph.snapshot().entry();
    graph.add(Ruling{id_of(identity), Ruling::Decision::accepted, "one mould", {}, "tester", "2026-01-03", false});
    graph.write();
    const ChangesAnswer answer = since(graph, before);
    check_same(told(answer), moved(*graph.store().snapshot(before), graph.snapshot(), .01));
    CHECK(answer.claims.size() == 2);
    CHECK(told(answer).count(graph.ref(identity)) == 0);
}

TEST_CASE("every claim that moved is named and no other, whatever was done", "[changes]") {
    // Thirty small random graphs side by side, changed at random eighty times; each state compared with an earlier one.
    std::mt19937_64 random(20260101);
    const auto below = [&](std::size_t n) { return static_cast<std::size_t>(random() % n); };
    SmallGraph graph;
    std::vector<testing::RandomGraph> graphs;
    std::vector<ContentId> put;
    for (std::uint64_t seed = 0; seed < 30; ++seed) {
        graphs.push_back(testing::random_graph(seed + 1000));
        for (const Record& record : graphs.back().records()) {
            graph.add(record);
            std::visit([&](const auto& one) {
                using One = std::decay_t<decltype(one)>;
                if constexpr (std::is_same_v<One, Claim> || std::is_same_v<One, Evidence> || std::is_same_v<One, Listing> || std::is_same_v<One, Argument>)
                    put.push_back(id_of(one));
            }, record);
        }
    }
    graph.write();
    std::size_t named = 0;
    for (int step = 0; step < 80; ++step) {
        const std::uint64_t last = graph.snapshot().entry();
        const std::uint64_t before = 2 + below(last - 1);
        for (std::size_t i = 1 + below(3); i > 0; --i) {
            const testing::RandomGraph& one = graphs[below(graphs.size())];
            switch (below(12)) {
                case 0:
                case 1: {  // a source is judged anew
                    Source source;
                    source.key = one.source_key(static_cast<int>(below(one.sources.size())));
                    source.reliability = .05 + .01 * static_cast<double>(below(90));
                    graph.add(source);
                    break;
                }
                case 2: {  // an identity between two shapes
                    const testing::RandomGraph& other = graphs[below(graphs.size())];
                    if (one.name == other.name) break;
                    const Claim same{one.subject(), "same-as", {Value::Type::entity, other.subject(), ""}, "", "", false};
                    graph.add(same);
                    graph.witness(same, .7);
                    put.push_back(id_of(same));
                    const Ruling ruling{id_of(same), Ruling::Decision::accepted, "one thing", {}, "tester", "2026-01-03", false};
                    graph.add(ruling);
                    put.push_back(id_of(ruling));
                    break;
                }
                case 3:
                case 4:
                case 5:
                case 6: {  // something is withdrawn
                    const ContentId id = put[below(put.size())];
                    if (graph.snapshot().is_in_force(id)) graph.add(Withdrawal{id, "taken back"});
                    break;
                }
                default: {  // something is put (again)
                    const auto records = one.records();
                    const Record& record = records[below(records.size())];
                    if (std::holds_alternative<Claim>(record) || std::holds_alternative<Listing>(record) || std::holds_alternative<Source>(record)) {
                        graph.add(record);
                    } else if (!one.claims.empty()) {
                        graph.add(one.claim(0));
                        graph.witness(one.claim(0), .5);
                    }
                }
            }
        }
        try {
            graph.write();
        } catch (const UsageFault&) {  // the same record withdrawn twice in one step
            continue;
        }
        const auto earlier = graph.store().snapshot(before);
        const ChangesAnswer answer = changes(*earlier, graph.snapshot());
        named += answer.claims.size();
        check_same(told(answer), moved(*earlier, graph.snapshot(), .01));
        for (const ChangedClaim& one : answer.claims) CHECK_FALSE(one.causes.empty());
    }
    CHECK(named > 200);
}
