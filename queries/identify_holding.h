// How far one candidate has one thing that was seen, over all ways together.
#pragma once

#include <optional>
#include <set>
#include <string>
#include <unordered_map>
#include <vector>

#include "queries/identify.h"

namespace saggar {

// One thread; keeps references.
class HoldingReader {
public:
    HoldingReader(const Snapshot& snapshot, Weigher& weigher, Privacy& privacy, Aliases& aliases);

    // Whether a candidate of which nothing is claimed may be ruled out all the same: by a list, or because it has another
    // one already.
    bool may_be_ruled_out(const std::vector<const Relation*>& direct);
    // `ways`: from the candidate, under any name.
    Holding read(const NamedThing& candidate, const Sighting& sighting, const std::vector<const Relation*>& direct,
                 const std::vector<Way>& ways);
    // The best supported object of an at-most-one relation, half supported or more; or the only one, where nobody denies it.
    CellReader& cells() { return cells_; }
    std::optional<EntityId> belongs_to(const NamedThing& candidate, const Relation& relation);

private:
    void add_ways(Holding& holding, const std::vector<Way>& ways);
    void add_unclaimed(Holding& holding, const NamedThing& candidate, const Sighting& sighting, const std::vector<const Relation*>& direct);
    void deny(Holding& holding, double never, double both, const std::vector<ClaimRef>& claims);
    double product(const Chain& chain, std::size_t end);
    bool is_plain(ClaimRef claim);

    const Snapshot& snapshot_;
    Weigher& weigher_;
    Privacy& privacy_;
    CellReader cells_;
};

}  // namespace saggar
