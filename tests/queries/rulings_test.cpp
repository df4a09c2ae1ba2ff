#include "queries/rulings.h"

#include <catch2/catch.hpp>

#include "queries/privacy.h"
#include "tests/kg/weigh/small_graph.h"

using namespace saggar;
using testing::SmallGraph;

namespace {

// A disputed modeller with a ruling that has seen everything.
struct Settled {
    SmallGraph graph;
    Claim ennersley = graph.claim("modelled-by", "person:ennersley");
    Claim wrenholt = graph.claim("modelled-by", "person:wrenholt");
    Evidence journal = (graph.source("journal", .9), graph.reading(ennersley, "journal"));
    Evidence notice = (graph.source("notice", .8), graph.reading(wrenholt, "notice"));

    Settled() {
        graph.write();
        rule(Ruling::Decision::accepted, "2026-01-03");
    }
    Ruling rule(Ruling::Decision decision, const std::string& day) {
        Gatherer gatherer(graph.snapshot(), graph.weigher().profile());
        const Ruling ruling = graph.add(Ruling{id_of(ennersley), decision, "her own book", to_look_at(gatherer, graph.ref(ennersley)), "tester", day, false});
        graph.write();
        return ruling;
    }
    std::vector<RulingStanding> standing() {
        Gatherer gatherer(graph.snapshot(), graph.weigher().profile());
        return standing_of(graph.snapshot(), gatherer, graph.ref(ennersley));
    }
    void withdraw(const ContentId& id, const std::string& reason) {
        graph.add(Withdrawal{id, reason});
        graph.write();
    }
};

}  // namespace

TEST_CASE("a ruling has looked at everything for and against, rivals' evidence too, and changes no weight", "[rulings]") {
    Settled settled;
    REQUIRE(settled.standing().size() == 1);
    const RulingStanding ruling = settled.standing()[0];
    std::vector<ContentId> expected{id_of(settled.journal), id_of(settled.notice)};
    std::sort(expected.begin(), expected.end());
    CHECK(ruling.ruling.looked_at == expected);
    CHECK_FALSE(ruling.stale());
    CHECK_FALSE(ruling.superseded);
    CHECK(settled.graph.weigh(settled.ennersley).masses.both == Approx(.72));
}

TEST_CASE("evidence that a ruling did not see makes it stale, for the claim or for its rival", "[rulings]") {
    Settled settled;
    const Evidence letter = settled.graph.witness(settled.wrenholt, .5);
    settled.graph.write();
    REQUIRE(settled.standing()[0].stale());
    CHECK(settled.standing()[0].unseen == std::vector{id_of(letter)});
    Privacy privacy(settled.graph.snapshot(), true);
    CHECK(record_words(settled.graph.snapshot(), privacy, id_of(letter)) == "for: source:witness-2");
    settled.withdraw(id_of(letter), "misread");
    CHECK_FALSE(settled.standing()[0].stale());
}

TEST_CASE("withdrawing what a ruling looked at makes it stale, with the reason", "[rulings]") {
    Settled settled;
    settled.withdraw(id_of(settled.journal), "another shape");
    REQUIRE(settled.standing()[0].gone.size() == 1);
    const Gone gone = settled.standing()[0].gone[0];
    CHECK(gone.record == id_of(settled.journal));
    CHECK(gone.entry == settled.graph.snapshot().entry());
    CHECK(gone.reason == "another shape");
    CHECK(settled.standing()[0].unseen.empty());
    settled.graph.add(settled.journal);  // put back
    settled.graph.write();
    CHECK_FALSE(settled.standing()[0].stale());
}

TEST_CASE("withdrawing a rival claim takes its evidence along", "[rulings]") {
    Settled settled;
    settled.withdraw(id_of(settled.wrenholt), "nobody says so");
    REQUIRE(settled.standing()[0].gone.size() == 1);
    CHECK(settled.standing()[0].gone[0].record == id_of(settled.wrenholt));
    CHECK(settled.standing()[0].gone[0].reason == "nobody says so");
}

TEST_CASE("the last ruling made stands; taking it back restores the one before", "[rulings]") {
    Settled settled;
    const Ruling second = settled.rule(Ruling::Decision::left_open, "2026-01-04");
    REQUIRE(settled.standing().size() == 2);
    CHECK(settled.standing()[0].ruling.decision == Ruling::Decision::left_open);
    CHECK_FALSE(settled.standing()[0].superseded);
    CHECK(settled.standing()[1].superseded);
    settled.withdraw(id_of(second), "too timid");
    REQUIRE(settled.standing().size() == 1);
    CHECK(settled.standing()[0].ruling.decision == Ruling::Decision::accepted);
    // Made again: the last one again, though it is an old record.
    settled.graph.add(second);
    settled.graph.write();
    CHECK(settled.standing()[0].ruling.decision == Ruling::Decision::left_open);
}

TEST_CASE("rulings are told as of any entry", "[rulings]") {
    Settled settled;
    const std::uint64_t ruled = settled.graph.snapshot().entry();
    settled.graph.witness(settled.wrenholt, .5);
    settled.graph.write();
    CHECK(settled.standing()[0].stale());
    const auto before = settled.graph.store().snapshot(ruled);
    Weigher weigher(*before);
    Gatherer gatherer(*before, weigher.profile());
    const auto standing = standing_of(*before, gatherer, *before->find_claim(settled.ennersley));
    REQUIRE(standing.size() == 1);
    CHECK_FALSE(standing[0].stale());
    const auto earlier = settled.graph.store().snapshot(ruled - 1);
    Gatherer gatherer_earlier(*earlier, weigher.profile());
    CHECK(standing_of(*earlier, gatherer_earlier, *earlier->find_claim(settled.ennersley)).empty());
}
