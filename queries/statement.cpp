#include "queries/statement.h"

#include "kg/model/vocabulary.h"
#include "queries/cite_date.h"

namespace saggar {

std::string relation_words(const Snapshot& snapshot, RelationId relation) {
    const std::string& name = snapshot.relation_name(relation);
    const Relation* known = snapshot.vocabulary().find_relation(name);
    return known && !known->label.empty() ? known->label : name;
}

std::string object_words(const Snapshot& snapshot, const ClaimRow& claim) {
    if (claim.has_entity_object()) return snapshot.label_of(claim.object);
    if (claim.object_type == Value::Type::date) return date_in_words(claim.object_text);
    return claim.object_unit.empty() ? claim.object_text : claim.object_text + " " + claim.object_unit;
}

std::string limits_words(const Snapshot& snapshot, const ClaimRow& claim) {
    std::string limits;
    if (!claim.scope.empty()) {
        const auto scope = snapshot.find(claim.scope);
        limits = "for " + (scope ? snapshot.label_of(*scope) : claim.scope);
    }
    if (!claim.when.empty()) limits += (limits.empty() ? "" : ", ") + date_in_words(claim.when);
    return limits;
}

std::string statement(const Snapshot& snapshot, const ClaimRow& claim) {
    std::string out = snapshot.label_of(claim.ref.subject) + " " + relation_words(snapshot, claim.ref.relation) + " " +
                      object_words(snapshot, claim);
    if (const std::string limits = limits_words(snapshot, claim); !limits.empty()) out += " (" + limits + ")";
    return out;
}

std::string evidence_words(const Snapshot& snapshot, const EvidenceRow& row) {
    std::string out = snapshot.label_of(row.source);
    if (!row.at.empty()) out += ", " + row.at;
    if (!row.quote.empty()) out += ": \"" + row.quote + "\"";
    std::string manner = row.certainty;
    if (row.reading == "indirect") manner += manner.empty() ? "indirect" : ", indirect";
    if (row.mention) manner += manner.empty() ? "silent" : ", silent";
    if (!manner.empty()) out += " (" + manner + ")";
    return out;
}

}  // namespace saggar
