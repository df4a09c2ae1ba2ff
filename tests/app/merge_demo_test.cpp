// Two copies of the Skerrow example, edited apart by two people and merged: nothing is lost, what contradicts is in dispute,
// the history tells who said what, and the graph is whole.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cstdlib>
#include <map>
#include <set>

#include "importers/merge/merge.h"
#include "kg/store/check.h"
#include "kg/weigh/weigher.h"
#include "queries/dispute_search.h"
#include "tests/app/twin_graphs.h"

using namespace saggar;
using saggar::testing::answers_of;
using saggar::testing::TemporaryFolder;
using saggar::testing::visible_in;

namespace fs = std::filesystem;

namespace {

constexpr int changes_each = 60, contradictory = 10;

// What somebody takes down on one evening: a claim that nobody else has, but for the first ten, in which the two disagree.
std::vector<Record> note_of(const std::string& author, int n) {
    Claim claim;
    if (n < contradictory) {
        claim.subject = "shape:pilot-" + std::to_string(n);
        claim.relation = "modelled-by";
        claim.object = {Value::Type::entity, author == "Ann" ? "person:maud-ennersley" : "person:tobias-wrenholt", ""};
    } else {
        claim.subject = "piece:" + std::string(author == "Ann" ? "ann" : "bea") + "-" + std::to_string(n);
        claim.relation = "instance-of";
        claim.object = {Value::Type::entity, "article:teapot", ""};
    }
    Evidence evidence;
    evidence.claim = id_of(claim);
    evidence.source = author == "Ann" ? "source:quance-2015" : "source:hale-1979";
    evidence.at = "page=" + std::to_string(200 + n);
    evidence.recorded_by = author;
    evidence.recorded_on = "2026-03-0" + std::to_string(1 + n % 9);
    return {claim, evidence};
}

void edit(Store& store, const std::string& author) {
    for (int n = 0; n < changes_each; ++n) {
        ChangeHead head;
        head.verb = "note";
        head.author = author;
        head.reason = "evening " + std::to_string(n);
        head.time = "2026-03-01T00:00:00Z";
        Change change = store.begin(head);
        for (const Record& record : note_of(author, n)) change.put(record);
        change.commit();
    }
}

std::set<std::set<ContentId>> quarrels_of(const Snapshot& graph) {
    const Weigher weigher(graph);
    std::set<std::set<ContentId>> all;
    for (const Quarrel& quarrel : find_quarrels(graph, weigher.profile()).found) {
        std::set<ContentId> claims;
        for (const ClaimRef claim : quarrel.claims) claims.insert(graph.content_of(claim));
        all.insert(std::move(claims));
    }
    return all;
}

MergeReport merge_of(Store& into, const fs::path& other, const std::string& author) {
    MergeOptions options;
    options.author = author;
    options.time = "2026-04-01T00:00:00Z";
    const auto theirs = TheirGraph::open(other);
    return merge(into, *theirs, options);
}

}  // namespace

TEST_CASE("two copies of the example edited apart merge with the disputes expected and nothing lost", "[merge]") {
    TemporaryFolder folder;
    const fs::path a = folder.path() / "ann", b = folder.path() / "bea", a_before = folder.path() / "ann-before";
    ::setenv("SAGGAR", SAGGAR_BIN_DIR "/saggar", 1);
    REQUIRE(std::system(("sh '" SAGGAR_SOURCE_DIR "/examples/skerrow/load.sh' '" + a.string() + "' >/dev/null 2>&1").c_str()) == 0);
    fs::copy(a, b, fs::copy_options::recursive);
    std::set<std::set<ContentId>> quarrels_before;
    std::set<ContentId> all;  // open records of both
    {
        Store ann = Store::open(a, Access::write), bea = Store::open(b, Access::write);
        quarrels_before = quarrels_of(*ann.snapshot());
        edit(ann, "Ann");
        edit(bea, "Bea");
        all = visible_in(*ann.snapshot());
        const auto hers = visible_in(*bea.snapshot());
        all.insert(hers.begin(), hers.end());
    }
    fs::copy(a, a_before, fs::copy_options::recursive);
    Store ann = Store::open(a, Access::write);
    const std::uint64_t before = ann.last_entry();
    const MergeReport report = merge_of(ann, b, "Ann");
    CHECK_FALSE(report.problems.any_error());
    CHECK(report.counts.claims == changes_each);
    CHECK(report.counts.evidence == changes_each);
    CHECK(ann.last_entry() == before + changes_each);
    CHECK(visible_in(*ann.snapshot()) == all);
    CHECK(check(ann).damage.empty());

    // The disputes: those that were there, and one for each of the ten on which the two disagree.
    auto expected = quarrels_before;
    for (int n = 0; n < contradictory; ++n)
        expected.insert({id_of(std::get<Claim>(note_of("Ann", n)[0])), id_of(std::get<Claim>(note_of("Bea", n)[0]))});
    CHECK(quarrels_of(*ann.snapshot()) == expected);

    // Who said what, and why.
    int by_bea = 0;
    for (const Entry& entry : ann.snapshot()->history(before + 1, ann.last_entry())) {
        CHECK(entry.author == "Bea");
        CHECK(entry.verb == "merge");
        CHECK(entry.reason.find("note: evening " + std::to_string(by_bea++) + " (entry") == 0);
        CHECK(entry.counts.claims == 1);
    }
    CHECK(by_bea == changes_each);
    for (const char* author : {"Ann", "Bea"})
        for (int n = 0; n < changes_each; ++n) {
            const Evidence noted = std::get<Evidence>(note_of(author, n)[1]);
            const auto snapshot = ann.snapshot();
            const auto claim = snapshot->claim(*snapshot->find_claim(noted.claim));
            const auto row = std::find_if(claim->evidence.begin(), claim->evidence.end(), [&](const EvidenceRow& one) { return one.id == id_of(noted); });
            REQUIRE(row != claim->evidence.end());
            CHECK(row->recorded_by == author);
            CHECK(row->recorded_on == noted.recorded_on);
        }

    // The other way round the claims and the weights are the same; and again, nothing is new.
    Store bea = Store::open(b, Access::write);
    merge_of(bea, a_before, "Bea");
    CHECK(visible_in(*bea.snapshot()) == all);
    CHECK(answers_of(*bea.snapshot()) == answers_of(*ann.snapshot()));
    CHECK(merge_of(ann, b, "Ann").first_entry == 0);
}
