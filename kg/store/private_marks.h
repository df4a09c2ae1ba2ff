// What is private, told from the records themselves.
//
//   thing     marked so in its newest description; or never described, and named by private records alone
//   claim     marked so, or names a marked thing; or all that was ever read or argued for or against it is private
//   reading   marked so, or drawn from a marked source
//   list      marked so, or its source, subject or scope is marked
//   argument  marked so, or one of its premises is private
//
// Marks are not part of the history: what is marked now was private at every entry, and what was once open stays so. The
// order in which records came makes no difference. kg/store/private_filter.h tells the same from a ledger.
// Cost: a few look-ups for each thing, remembered; for a claim one look at its readings, and where none of those is open at
// what it is argued from.
#pragma once

#include <optional>
#include <string>
#include <unordered_map>

#include "kg/store/snapshot.h"

namespace saggar {

// One thread; the snapshot must outlive it.
class PrivateMarks {
public:
    explicit PrivateMarks(const Snapshot& snapshot) : snapshot_(&snapshot) {}

    bool is_marked(EntityId thing);
    bool is_marked(std::string_view key);
    // Marked itself, or names a marked thing; the readings are not looked at.
    bool is_marked(const ClaimRow& claim);
    bool is_marked(const EvidenceRow& reading) { return reading.is_private || is_marked(reading.source); }
    bool is_marked(const ListingRow& list);

    bool is_hidden(EntityId thing);
    // Also of a claim that is withdrawn.
    bool is_hidden(ClaimRef claim);
    bool is_hidden(const ArgumentRow& argument);
    // Of any record with a content id, in force or not.
    bool is_hidden(const ContentId& record);

private:
    bool is_described(EntityId thing) const;
    bool is_named_openly(EntityId thing, bool& is_named);
    // Keys that records name in passing (scopes, sources copied from, families), and whether an open one does.
    using InPassing = std::unordered_map<std::string, bool>;
    const InPassing& in_passing();
    std::optional<ClaimRow> row_of(ClaimRef claim) const;
    enum class Standing { hidden, open, argued };
    Standing standing(ClaimRef claim);
    bool is_argued_openly(ClaimRef claim);

    const Snapshot* snapshot_;
    std::unordered_map<EntityId, bool> marked_, hidden_;
    std::unordered_map<ClaimRef, bool> claims_;
    std::optional<InPassing> in_passing_;  // made when first asked for
};

}  // namespace saggar
