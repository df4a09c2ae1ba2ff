// Comparisons of random graphs: against an obvious twin that weighs every claim, and cells decided by one reading against the
// same cells worked out.
#include <catch2/catch.hpp>

#include <map>
#include <optional>
#include <set>

#include "kg/model/vocabulary.h"
#include "kg/weigh/profile.h"
#include "queries/compare.h"
#include "tests/kg/weigh/random_graph.h"
#include "tests/kg/weigh/small_graph.h"

using namespace saggar;
using namespace saggar::testing;

namespace {

constexpr int graphs = 300;

using Standings = std::map<std::string, Standing>;  // by "thing relation object"

Standings standings(const SmallGraph& graph, const CompareAnswer& answer) {
    Standings all;
    for (const ComparedRelation& relation : answer.relations)
        for (const ComparedObject& object : relation.objects)
            for (std::size_t i = 0; i < object.cells.size(); ++i)
                all[graph.snapshot().key_of(answer.things[i].id) + " " + relation.name + " " + object.label] = object.cells[i].standing;
    return all;
}

// One reading that decides, from the readings as the weighing shows them.
std::optional<Standing> decided_by_one(SmallGraph& graph, const ClaimRow& claim, const Weight& weight, double supported) {
    if (graph.snapshot().vocabulary().find_relation(graph.snapshot().relation_name(claim.ref.relation))->at_most_one) return std::nullopt;
    std::set<Stance> sides;
    double best = 0;
    for (const ReadingShown& reading : weight.readings) {
        if (reading.role == ReadingShown::Role::no_basis) continue;
        sides.insert(reading.stance);
        if (reading.role == ReadingShown::Role::own) best = std::max(best, reading.reliability);
    }
    const bool any_reading = !sides.empty();
    for (const ArgumentRow& argument : graph.snapshot().arguments_for(claim.ref)) sides.insert(argument.stance);
    if (!any_reading || sides.size() != 1 || best < supported) return std::nullopt;
    return *sides.begin() == Stance::in_favour ? Standing::has : Standing::never;
}

// As the header of cell.h says it, claim by claim; what nobody claims of a thing is left out.
Standings twin(SmallGraph& graph, const std::vector<EntityId>& things, const CompareAnswer& answer) {
    Standings all;
    const Profile& profile = graph.weigher().profile();
    for (const EntityId thing : things) {
        for (const ClaimWithEvidence& claim : graph.snapshot().claims_of(thing)) {
            const Weight weight = graph.weigher().weigh(claim.claim.ref);
            const Masses& masses = weight.masses;
            Standing standing = Standing::weak;
            if (const auto decided = decided_by_one(graph, claim.claim, weight, answer.supported)) {
                standing = *decided;
            } else if (masses.neither > 1 - 1e-12) {
                standing = Standing::unknown;
            } else if (masses.both >= profile.contested_from) {
                standing = Standing::disputed;
            } else if (masses.for_only / (1 - masses.both) >= answer.supported) {
                standing = Standing::has;
            } else if (1 - masses.against_only / (1 - masses.both) <= 1 - answer.supported) {
                standing = Standing::never;
            }
            all[graph.snapshot().key_of(thing) + " " + graph.snapshot().relation_name(claim.claim.ref.relation) + " " +
                graph.snapshot().label_of(claim.claim.object)] = standing;
        }
    }
    return all;
}

}  // namespace

TEST_CASE("every cell stands as its claim weighs, however it was found", "[compare]") {
    SmallGraph store;
    std::vector<RandomGraph> all;
    for (int i = 0; i < graphs; ++i) all.push_back(random_graph(9'000 + static_cast<std::uint64_t>(i)));
    for (const RandomGraph& graph : all)
        for (const Record& record : graph.records()) store.add(record);
    store.write();
    std::size_t cells = 0, decided = 0;
    std::map<Standing, std::size_t> seen;
    for (int i = 0; i + 1 < graphs; i += 2) {
        CompareQuestion question;
        question.things = {store.snapshot().need(all[static_cast<std::size_t>(i)].subject()),
                           store.snapshot().need(all[static_cast<std::size_t>(i) + 1].subject())};
        const CompareAnswer full = compare(store.snapshot(), store.weigher(), question);
        INFO(all[static_cast<std::size_t>(i)].name);
        const Standings found = standings(store, full);
        for (const auto& [what, standing] : twin(store, question.things, full)) {
            INFO(what);
            REQUIRE(found.count(what) == 1);
            CHECK(word_for(found.at(what)) == word_for(standing));
            ++seen[standing];
        }
        question.figures = false;
        const CompareAnswer quick = compare(store.snapshot(), store.weigher(), question);
        for (const auto& [what, standing] : standings(store, quick)) {
            INFO(what);
            CHECK(word_for(standing) == word_for(found.at(what)));
        }
        for (const ComparedRelation& relation : quick.relations) {
            for (const ComparedObject& object : relation.objects) {
                for (const Cell& cell : object.cells) {
                    ++cells;
                    if (!cell.masses && cell.standing != Standing::unknown) ++decided;
                }
            }
        }
    }
    CHECK(cells > 500);
    CHECK(decided > 20);  // else the short way was not tried
    for (const Standing standing : {Standing::has, Standing::never, Standing::disputed, Standing::weak, Standing::unknown}) {
        INFO(word_for(standing));
        CHECK(seen[standing] > 5);
    }
}
