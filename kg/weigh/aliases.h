// Which names are one thing, by accepted identity claims.
//
// An identity claim ("is the same as") counts once a ruling in force accepts it; withdrawing the ruling or the claim
// separates the names again. The claims used enter the lineage of whatever uses the merge (R12).
// Cost: a few reads for each name on the way, remembered.
#pragma once

#include <unordered_map>
#include <vector>

#include "kg/store/ids.h"
#include "kg/store/link_choice.h"

namespace saggar {

class Snapshot;

struct Alias {
    EntityId other;
    std::vector<ClaimRef> identities;  // the way there; the shortest, by content id among equals
};

// Whether the last ruling on the claim accepts it.
bool is_accepted(const Snapshot& snapshot, ClaimRef claim);

// One thread; keeps a reference.
class Aliases {
public:
    explicit Aliases(const Snapshot& snapshot);

    // False: the graph has never used an identity relation.
    bool any() const { return !relations_.empty(); }
    bool is_identity(RelationId relation) const;
    // All other names of an entity, sorted by key.
    const std::vector<Alias>& of(EntityId entity);
    bool are_one(EntityId a, EntityId b);

private:
    struct Step {
        EntityId to;
        ClaimRef claim;
    };
    std::vector<Step> accepted_steps(EntityId entity) const;

    const Snapshot& snapshot_;
    std::vector<RelationId> relations_;
    LinkChoice identities_;
    std::unordered_map<EntityId, std::vector<Alias>> known_;
};

}  // namespace saggar
