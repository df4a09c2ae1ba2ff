// What things share, what only one or some have, what none has although somebody looked, what is in dispute, and what is
// not known: for every relation that things of their kinds can have.
//
// Each cell (thing, relation, object) stands on weighed evidence (cell.h). Objects are those of which anybody has claimed
// anything for one of the things; a complete list speaks of all of them. Other things of the objects' kinds,
// of which nothing is said, are named beside them where a relation is asked for by name. Things and objects that an accepted identity makes one are one here.
// Relations are also read backwards ("designed"), except those from pieces and sources, which are evidence and not properties, and
// those of which an object can have one only, so that nothing can be shared; both are read when they are named. Dates are
// compared as runs (run_relation.h), not here. For three things and more, groups with exactly the features they share
// (concepts.h) are made of cells that are `has`; there what is denied, disputed or not known counts alike as not there.
// Cost: one pass over the claims of the things, and the masses of each cell.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "queries/cell.h"
#include "queries/concepts.h"

namespace saggar {

struct CompareQuestion {
    std::vector<EntityId> things;        // two or more
    std::vector<std::string> relations;  // names or inverse names; empty: all there are
    std::optional<double> supported;     // .5 to 1; nothing: the profile's
    bool with_private = true;
    bool figures = true;                 // false: only cells that need them get masses
    std::size_t most_cells = 60'000;     // beyond them relations are left out, and named
    std::size_t most_concepts = 2'000;
};

struct ComparedObject {
    EntityId entity;          // none: a value
    Value value;              // of a value
    std::string label;
    std::vector<Cell> cells;  // one for each thing, in their order
    bool flagged = false;     // a glaze or treatment that may hold lead, cadmium or uranium
    // How many of the cells stand so.
    std::size_t count(Standing standing) const;
    std::size_t counting() const;  // has and limited
};

struct ComparedRelation {
    std::string name;      // as seen from the things: an inverse name where `inverse`
    std::string label;     // words for it
    std::string relation;  // its name forwards
    bool inverse = false;
    std::vector<ComparedObject> objects;  // by label, then key or value
    // Where relations were named: others of the kinds of the objects of which nothing is said for any of the things: at most
    // `most_unspoken`, by key.
    std::vector<EntityId> unspoken;
    bool unspoken_more = false;
};
inline constexpr std::size_t most_unspoken = 200;

// A feature of the concepts: an object of a relation.
struct ComparedFeature {
    std::size_t relation = 0;  // into the answer's relations
    std::size_t object = 0;
};

struct CompareAnswer {
    std::vector<NamedThing> things;
    std::vector<ComparedRelation> relations;  // of which anything is said, in the order of the vocabulary, forward ones first
    std::vector<std::string> silent;          // of which nothing is said
    std::vector<std::string> not_read;        // backward ones passed over
    std::vector<std::string> cut;             // left out for want of room
    std::vector<ComparedFeature> features;
    Concepts concepts;  // of two things none
    double supported = .5;
    std::size_t hidden = 0;  // private objects and claims passed over
    std::string profile;
};

// UsageFault: fewer than two things (identities taken into account), things that no relation is common to, an unknown
// relation, one that they cannot have, or one of dates. The weigher must be of the same snapshot.
CompareAnswer compare(const Snapshot& snapshot, Weigher& weigher, const CompareQuestion& question);

}  // namespace saggar
