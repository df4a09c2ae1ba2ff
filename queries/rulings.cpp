#include "queries/rulings.h"

#include <fmt/format.h>

#include <algorithm>

#include "kg/store/ruling_order.h"
#include "kg/weigh/behind.h"
#include "queries/privacy.h"
#include "queries/statement.h"

namespace saggar {
namespace {

// The withdrawal that ended a record's last time in force.
Gone gone(const Snapshot& snapshot, const ContentId& record) {
    Gone found;
    found.record = record;
    const Spans spans = snapshot.spans_of(record);
    if (spans.empty() || spans.back().until == 0) return found;
    found.entry = spans.back().until;
    for (const Entry& entry : snapshot.history(found.entry, found.entry)) {
        for (const Withdrawal& one : entry.withdrawals)
            if (one.of == record) found.reason = one.reason;
    }
    return found;
}

// Evidence falls with its claim; so does an argument with its conclusion.
ContentId what_fell(const Snapshot& snapshot, const ContentId& record) {
    if (!snapshot.is_in_force(record)) return record;
    const auto place = snapshot.place_of(record);
    if (!place || place->type == RecordPlace::Type::list) return {};
    const ContentId claim = snapshot.content_of(place->claim);
    return snapshot.is_in_force(claim) ? ContentId{} : claim;
}

RulingStanding standing(const Snapshot& snapshot, RulingRow ruling, const std::vector<ContentId>& lineage) {
    RulingStanding found;
    std::sort(ruling.looked_at.begin(), ruling.looked_at.end());
    std::set_difference(lineage.begin(), lineage.end(), ruling.looked_at.begin(), ruling.looked_at.end(),
                        std::back_inserter(found.unseen));
    for (const ContentId& seen : ruling.looked_at) {
        const auto place = snapshot.place_of(seen);
        if (place && place->type == RecordPlace::Type::ruling) continue;  // an earlier ruling is no evidence
        if (const ContentId fell = what_fell(snapshot, seen); !fell.empty()) found.gone.push_back(gone(snapshot, fell));
    }
    std::sort(found.gone.begin(), found.gone.end(), [](const Gone& a, const Gone& b) { return a.record < b.record; });
    found.gone.erase(std::unique(found.gone.begin(), found.gone.end(),
                                 [](const Gone& a, const Gone& b) { return a.record == b.record; }),
                     found.gone.end());
    found.ruling = std::move(ruling);
    return found;
}

}  // namespace

std::vector<ContentId> to_look_at(Gatherer& gatherer, ClaimRef claim) {
    return behind(gatherer, claim).records;
}

std::vector<RulingStanding> standing_of(const Snapshot& snapshot, Gatherer& gatherer, ClaimRef claim) {
    std::vector<RankedRuling> rulings = ranked_rulings(snapshot.rulings(claim));
    if (rulings.empty()) return {};
    const std::vector<ContentId> lineage = to_look_at(gatherer, claim);
    std::vector<RulingStanding> found;
    for (RankedRuling& one : rulings) {
        found.push_back(standing(snapshot, std::move(one.row), lineage));
        found.back().superseded = one.is_overruled;
    }
    return found;
}

bool disagree(const std::vector<RulingStanding>& rulings) {
    return std::any_of(rulings.begin(), rulings.end(), [&](const RulingStanding& one) {
        return !one.superseded && one.ruling.decision != rulings.front().ruling.decision;
    });
}

std::vector<ContentId> rulings_seen(const Snapshot& snapshot, ClaimRef claim, bool with_private) {
    std::vector<ContentId> ids;
    for (const RulingRow& row : snapshot.rulings(claim))
        if (with_private || !row.is_private) ids.push_back(row.id);
    return ids;
}

std::string record_words(const Snapshot& snapshot, Privacy& privacy, const ContentId& record) {
    const auto place = snapshot.place_of(record);
    if (!place) return {};
    const std::string hidden = "(private; see it with --with-private)";
    if (place->type == RecordPlace::Type::evidence) {
        const auto claim = snapshot.claim(place->claim);
        if (!claim) return {};
        if (!privacy.may_show(claim->claim)) return hidden;
        for (const EvidenceRow& row : claim->evidence)
            if (row.id == record)
                return privacy.may_show(row) ? (row.stance == Stance::in_favour ? "for: " : "against: ") + evidence_words(snapshot, row)
                                             : hidden;
    } else if (place->type == RecordPlace::Type::list) {
        for (const ListingRow& row : snapshot.listings(place->claim.subject, place->claim.relation))
            if (row.id == record)
                return privacy.may_show(row) ? fmt::format("the list of {}", snapshot.label_of(row.source)) : hidden;
    } else if (place->type == RecordPlace::Type::argument) {
        for (const ArgumentRow& row : snapshot.arguments_for(place->claim))
            if (row.id == record) return privacy.may_show(row) ? "the argument: " + row.reason : hidden;
    }
    return {};
}

std::string word_for(Ruling::Decision decision) {
    switch (decision) {
        case Ruling::Decision::accepted:
            return "accepted";
        case Ruling::Decision::rejected:
            return "rejected";
        case Ruling::Decision::left_open:
            return "left open";
    }
    return {};
}

}  // namespace saggar
