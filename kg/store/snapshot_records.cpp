// Rows written out as the records they came from, with keys and content ids for numbers.
#include "kg/store/row_codec.h"
#include "kg/store/snapshot.h"

namespace saggar {

Claim Snapshot::to_record(const ClaimRow& row) const {
    Claim claim;
    claim.subject = key_of(row.ref.subject);
    claim.relation = relation_name(row.ref.relation);
    claim.object.type = row.object_type;
    claim.object.text = row.has_entity_object() ? key_of(row.object) : row.object_text;
    claim.object.unit = row.object_unit;
    claim.scope = row.scope;
    claim.when = row.when;
    claim.is_private = row.is_private;
    return claim;
}

Evidence Snapshot::to_record(const EvidenceRow& row, const ContentId& claim) const {
    Evidence evidence;
    evidence.claim = claim;
    evidence.source = key_of(row.source);
    evidence.stance = row.stance;
    evidence.at = row.at;
    evidence.quote = row.quote;
    evidence.certainty = row.certainty;
    evidence.reading = row.reading;
    evidence.mention = row.mention;
    evidence.corrects = row.corrects;
    evidence.remark = row.remark;
    evidence.recorded_by = row.recorded_by;
    evidence.recorded_on = row.recorded_on;
    evidence.is_private = row.is_private;
    return evidence;
}

Listing Snapshot::to_record(const ListingRow& row) const {
    Listing listing;
    listing.source = key_of(row.source);
    listing.subject = key_of(row.subject);
    listing.relation = relation_name(row.relation);
    listing.scope = row.scope;
    listing.when = row.when;
    listing.completeness = row.completeness;
    listing.at = row.at;
    listing.quote = row.quote;
    listing.remark = row.remark;
    listing.recorded_by = row.recorded_by;
    listing.recorded_on = row.recorded_on;
    listing.is_private = row.is_private;
    return listing;
}

Argument Snapshot::to_record(const ArgumentRow& row) const {
    Argument argument;
    for (const ClaimRef& premise : row.premises) argument.premises.push_back(content_of(premise));
    argument.conclusion = content_of(row.conclusion);
    argument.stance = row.stance;
    argument.strength = row.strength;
    argument.reason = row.reason;
    argument.rule = row.rule;
    argument.recorded_by = row.recorded_by;
    argument.recorded_on = row.recorded_on;
    argument.is_private = row.is_private;
    return argument;
}

Ruling Snapshot::to_record(const RulingRow& row) const {
    Ruling ruling;
    ruling.claim = content_of(row.claim);
    ruling.decision = row.decision;
    ruling.reasons = row.reasons;
    ruling.looked_at = row.looked_at;
    ruling.decided_by = row.decided_by;
    ruling.decided_on = row.decided_on;
    ruling.is_private = row.is_private;
    return ruling;
}

}  // namespace saggar
