// The ways in which something seen on a piece can belong to a candidate.
//
// Candidates are of the kinds that pieces are examples of ("instance-of"): items, shapes, articles. A kind is broader than
// another where an at-most-one relation leads to it: an item is of one shape and of one article. What is seen may be claimed
//   of the candidate itself;
//   of something broader: the shape has a rope handle, so its jug has (a denial passes on as well);
//   of something narrower: a jug of the shape has it, so the shape has it somewhere (a denial does not pass on);
//   of something that the candidate shows: the treatment on it was done by transfer.
// "article-of", "of-shape" or "instance-of" may be asked of any of these kinds: the relation that leads there is taken.
// Walked from what was seen back to the candidates, so that only those of which anything is on record are touched.
#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "kg/store/snapshot.h"
#include "kg/weigh/weigher.h"
#include "queries/date_walk.h"
#include "queries/privacy.h"
#include "queries/sighting.h"

namespace saggar {

class Profile;

inline constexpr const char* example_relation = "instance-of";

struct IdentifyPlan {
    std::string kind;                      // of the candidates
    std::set<std::string> kinds;           // that pieces are examples of
    std::vector<const Relation*> broader;  // at-most-one, from the kind to another of them
    std::vector<const Relation*> narrower; // at-most-one, from another of them to the kind
    std::vector<const Relation*> shown;    // that the profile gives a chance of showing
    std::vector<const Relation*> looked_at; // those of them that are seen on a piece: a piece has them, or they say what it is
};

// `kind` empty: the narrowest of which the graph has any. UsageFault: no such kind, or none that pieces are examples of.
IdentifyPlan identify_plan(const Snapshot& snapshot, const Profile& profile, const std::string& kind);

struct Way {
    Chain chain;          // from the candidate to what was seen; all must hold
    bool denies = false;  // the last claim's denial is a denial of the candidate
};

// By candidate as the record names it. One thread; keeps references.
class WayFinder {
public:
    WayFinder(const Snapshot& snapshot, Privacy& privacy, DateWalker& walker, const IdentifyPlan& plan)
        : snapshot_(snapshot), privacy_(privacy), walker_(walker), plan_(plan) {}

    struct Found {
        std::map<EntityId, std::vector<Way>> ways;
        bool complete = true;  // false: too many things have it, and not all were taken
    };
    Found find(const Sighting& sighting, std::size_t most);
    // Relations under which the candidates themselves would have it.
    std::vector<const Relation*> direct(const Sighting& sighting) const;

private:
    struct Element {
        EntityId thing;
        Chain chain;
        bool denies = true;
    };
    std::vector<Element> start(const Sighting& sighting);
    std::vector<Element> subjects(EntityId object, const Relation& relation);
    std::vector<Element> with_value(const Relation& relation, const Value& value);
    void take(const Element& element, Found& found, bool deeper);
    void add(EntityId candidate, Chain chain, bool denies, Found& found);
    bool is_kind(EntityId thing) const { return snapshot_.kind_of(thing) == plan_.kind; }

    const Snapshot& snapshot_;
    Privacy& privacy_;
    DateWalker& walker_;
    const IdentifyPlan& plan_;
    std::size_t most_ = 0, taken_ = 0;
};

}  // namespace saggar
