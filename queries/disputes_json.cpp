#include "queries/disputes_json.h"

#include <nlohmann/json.hpp>

#include "queries/privacy.h"
#include "queries/statement.h"

namespace saggar {

namespace {

using nlohmann::json;

json stance_word(Stance stance) { return stance == Stance::in_favour ? "for" : "against"; }

json reading_of(const ReadingShown& reading, const ClaimWithEvidence& claim, const Snapshot& snapshot, Privacy& privacy) {
    if (!privacy.may_tell(reading.record)) return nullptr;
    json out = {{"record", reading.record.full()},
                {"is_list", reading.is_listing},
                {"source", snapshot.key_of(reading.source)},
                {"title", snapshot.label_of(reading.source)},
                {"stance", stance_word(reading.stance)},
                {"reliability", reading.reliability},
                {"role", word_for(reading.role)},
                {"root", reading.root && privacy.may_show(reading.root) ? json(snapshot.key_of(reading.root)) : json(nullptr)}};
    for (const EvidenceRow& row : claim.evidence) {
        if (row.id != reading.record) continue;
        if (!row.at.empty()) out["at"] = row.at;
        if (!row.quote.empty()) out["quote"] = row.quote;
        if (!row.certainty.empty()) out["certainty"] = row.certainty;
    }
    return out;
}

json arguments_of(ClaimRef claim, const Snapshot& snapshot, Privacy& privacy) {
    json out = json::array();
    for (const ArgumentRow& row : snapshot.arguments_for(claim)) {
        if (!privacy.may_show(row)) continue;
        json premises = json::array();
        for (const ClaimRef premise : row.premises) premises.push_back(snapshot.content_of(premise).full());
        out.push_back({{"argument", row.id.full()},
                       {"stance", stance_word(row.stance)},
                       {"strength", row.strength},
                       {"reason", row.reason},
                       {"premises", std::move(premises)}});
    }
    return out;
}

json view_of(const DisputeView& view, const Snapshot& snapshot, Privacy& privacy) {
    const Weight& weight = view.weight;
    const auto claim = snapshot.claim(weight.claim);
    if (!claim) return nullptr;
    json readings = json::array();
    for (const ReadingShown& reading : weight.readings)
        if (json one = reading_of(reading, *claim, snapshot, privacy); !one.is_null()) readings.push_back(std::move(one));
    json rulings = json::array();
    for (const RulingStanding& ruling : view.rulings) rulings.push_back(to_json(ruling, snapshot, privacy));
    const bool figure = weight.normalised && weight.clarity != Clarity::no_figure;
    return {{"claim", claim->claim.id.full()},
            {"statement", statement(snapshot, claim->claim)},
            {"for_only", weight.masses.for_only},
            {"against_only", weight.masses.against_only},
            {"both", weight.masses.both},
            {"neither", weight.masses.neither},
            {"support", figure ? json(weight.support) : json(nullptr)},
            {"possibility", figure ? json(weight.possibility) : json(nullptr)},
            {"method", word_for(weight.method)},
            {"half_width", weight.half_width},
            {"clarity", word_for(weight.clarity)},
            {"roots_for", weight.roots_for},
            {"roots_against", weight.roots_against},
            {"readings", std::move(readings)},
            {"arguments", arguments_of(weight.claim, snapshot, privacy)},
            {"rulings", std::move(rulings)},
            {"profile", weight.profile}};
}

json clash_of(const DisputeClash& clash, const Snapshot& snapshot) {
    json others = json::array();
    for (const ClaimRef claim : clash.clash.others) others.push_back(snapshot.content_of(claim).full());
    return {{"claim", snapshot.content_of(clash.clash.dated).full()},
            {"cannot_hold_with", std::move(others)},
            {"rule", clash.clash.rule},
            {"joint", clash.joint}};
}

json missing_of(const std::optional<MissingEvidence>& missing, const Snapshot& snapshot) {
    if (!missing) return nullptr;
    json out = {{"claim", snapshot.content_of(missing->claim).full()}, {"settles", missing->settles}, {"clears", missing->clears}};
    if (missing->kind == MissingEvidence::Kind::second_look) {
        out["what"] = "second look";
        out["source"] = snapshot.key_of(missing->source);
        out["if_misread"] = missing->if_misread;
        out["both_if_misread"] = missing->both_if_misread;
    } else {
        out["what"] = "new reading";
        out["grade"] = missing->grade;
        out["reliability"] = missing->reliability;
        out["if_for"] = missing->if_for;
        out["if_against"] = missing->if_against;
        out["first_of_its_kind"] = missing->first_of_its_kind;
    }
    return out;
}

}  // namespace

json to_json(const RulingStanding& standing, const Snapshot& snapshot, Privacy& privacy) {
    json unseen = json::array(), gone = json::array(), looked_at = json::array();
    for (const ContentId& record : standing.unseen)
        unseen.push_back({{"record", record.full()}, {"words", record_words(snapshot, privacy, record)}});
    for (const Gone& one : standing.gone)
        gone.push_back({{"record", one.record.full()}, {"entry", one.entry}, {"reason", privacy.may_tell(one.record) ? one.reason : "private"}});
    for (const ContentId& record : standing.ruling.looked_at) looked_at.push_back(record.full());
    return {{"ruling", standing.ruling.id.full()},
            {"decision", word_for(standing.ruling.decision)},
            {"reasons", standing.ruling.reasons},
            {"decided_by", standing.ruling.decided_by},
            {"decided_on", standing.ruling.decided_on},
            {"looked_at", std::move(looked_at)},
            {"superseded", standing.superseded},
            {"stale", standing.stale()},
            {"unseen", std::move(unseen)},
            {"withdrawn", std::move(gone)}};
}

json to_json(const DisputesAnswer& answer, const Snapshot& snapshot, Privacy& privacy) {
    json all = json::array();
    for (const Dispute& dispute : answer.disputes) {
        json kinds = json::array(), views = json::array();
        for (const DisputeKind kind : dispute.kinds) kinds.push_back(word_for(kind));
        for (const DisputeView& view : dispute.views) views.push_back(view_of(view, snapshot, privacy));
        json clashes = json::array();
        for (const DisputeClash& clash : dispute.clashes) clashes.push_back(clash_of(clash, snapshot));
        all.push_back({{"kinds", std::move(kinds)},
                       {"both", dispute.both},
                       {"resting", dispute.resting},
                       {"settled", dispute.settled},
                       {"hidden_views", dispute.hidden},
                       {"views", std::move(views)},
                       {"clashes", std::move(clashes)},
                       {"missing", missing_of(dispute.missing, snapshot)}});
    }
    return {{"disputes", std::move(all)}, {"found", answer.found}, {"times_compared", answer.times_compared}, {"entry", snapshot.entry()}};
}

}  // namespace saggar
