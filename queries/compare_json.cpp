#include "queries/compare_json.h"

#include <nlohmann/json.hpp>

#include "queries/cell_citation_json.h"

namespace saggar {

namespace {

using nlohmann::json;

json cell_of(const Cell& cell, const NamedThing& thing, const Snapshot& snapshot) {
    json claims = json::array();
    for (const ClaimRef ref : cell.claims) claims.push_back(snapshot.content_of(ref).full());
    const Masses masses = cell.masses.value_or(Masses{});
    const auto support = masses.support(), possibility = masses.possibility();
    return {{"thing", snapshot.key_of(thing.id)},
            {"standing", word_for(cell.standing)},
            {"by_ruling", cell.by_ruling},
            {"limits", cell.limits},
            {"claims", std::move(claims)},
            {"masses",
             {{"for_only", masses.for_only},
              {"against_only", masses.against_only},
              {"both", masses.both},
              {"neither", masses.neither}}},
            {"support", support ? json(*support) : json(nullptr)},
            {"possibility", possibility ? json(*possibility) : json(nullptr)},
            {"for", to_json(cell.cited_for, snapshot)},
            {"against", to_json(cell.cited_against, snapshot)}};
}

json object_of(const ComparedObject& object, const CompareAnswer& answer, const Snapshot& snapshot) {
    json cells = json::array();
    for (std::size_t i = 0; i < object.cells.size(); ++i) cells.push_back(cell_of(object.cells[i], answer.things[i], snapshot));
    json out = {{"object", object.entity ? snapshot.key_of(object.entity) : object.label},
                {"label", object.label},
                {"is_value", !object.entity},
                {"caution", object.flagged},
                {"cells", std::move(cells)}};
    return out;
}

json keys_of(const std::vector<EntityId>& ids, const Snapshot& snapshot) {
    json out = json::array();
    for (const EntityId id : ids) out.push_back(snapshot.key_of(id));
    return out;
}

json concepts_of(const CompareAnswer& answer, const Snapshot& snapshot) {
    json out = json::array();
    for (const Concept& one : answer.concepts.found) {
        json things = json::array(), features = json::array();
        for (const std::size_t i : one.things) things.push_back(snapshot.key_of(answer.things[i].id));
        for (const std::size_t f : one.features) {
            const ComparedRelation& relation = answer.relations[answer.features[f].relation];
            const ComparedObject& object = relation.objects[answer.features[f].object];
            features.push_back({{"relation", relation.name},
                                {"object", object.entity ? snapshot.key_of(object.entity) : object.label}});
        }
        out.push_back({{"things", std::move(things)}, {"features", std::move(features)}});
    }
    return out;
}

}  // namespace

json to_json(const CompareAnswer& answer, const Snapshot& snapshot, bool with_private) {
    json things = json::array(), relations = json::array();
    for (const NamedThing& thing : answer.things)
        things.push_back({{"key", snapshot.key_of(thing.id)},
                          {"label", snapshot.label_of(thing.id)},
                          {"also", keys_of({thing.names.begin() + 1, thing.names.end()}, snapshot)}});
    for (const ComparedRelation& relation : answer.relations) {
        json objects = json::array();
        for (const ComparedObject& object : relation.objects) objects.push_back(object_of(object, answer, snapshot));
        relations.push_back({{"relation", relation.name},
                             {"label", relation.label},
                             {"inverse", relation.inverse},
                             {"objects", std::move(objects)},
                             {"unspoken", keys_of(relation.unspoken, snapshot)},
                             {"unspoken_more", relation.unspoken_more}});
    }
    return {{"things", std::move(things)},
            {"relations", std::move(relations)},
            {"silent", answer.silent},
            {"not_read", answer.not_read},
            {"cut", answer.cut},
            {"concepts", concepts_of(answer, snapshot)},
            {"concepts_complete", answer.concepts.complete},
            {"supported", answer.supported},
            {"hidden", with_private ? 0 : answer.hidden},
            {"profile", answer.profile}};
}

}  // namespace saggar
