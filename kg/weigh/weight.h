// What the weighing answers: a claim's weight, and the weight of chains or sets of claims taken together.
//
// Plain values; they name claims by reference and records by content id, and stay good when the snapshot is gone.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "kg/model/content_id.h"
#include "kg/model/record.h"
#include "kg/store/ids.h"
#include "kg/weigh/masses.h"

namespace saggar {

enum class Method : std::uint8_t { exact, sampled };
// "exact", "sampled".
std::string word_for(Method method);

// The figure under three assumptions about dependence (inside sources and families) where the profile only has a
// convention: 0, the convention, 1. Dependence that was stated is not varied.
struct Band {
    double independent = 0;  // at 0
    double usual = 0;        // at the profile's conventions
    double dependent = 0;    // at 1
    bool unknown = false;    // some dependence that matters is not known at all: the band is the answer
    double low() const;
    double high() const;
};

// A minimal set of evidence that would suffice by itself, each reading in it good.
struct Ground {
    std::vector<ContentId> evidence;   // sorted
    std::vector<ContentId> listings;   // sorted; only against
    std::vector<ContentId> arguments;  // sorted; the steps it goes through
    double probability = 0;            // that all of it is good
};

// What one source does to the support.
struct Influence {
    EntityId source;
    double slope = 0;    // d support / d reliability of the source
    double without = 0;  // the support if everything read in it were misread
};

// A claim whose own evidence contradicts itself.
struct Contradiction {
    ClaimRef claim;
    double both = 0;
};

// How one reading entered.
struct ReadingShown {
    enum class Role : std::uint8_t {
        own,        // a reading in its own right
        copy,       // good only if its root is; adds nothing where the root is entered
        suspected,  // perhaps a copy
        corrected,  // taken back by a later one of the same author
        no_basis,   // cannot be judged, or so hedged that it says nothing
    };
    ContentId record;         // evidence or listing
    bool is_listing = false;
    EntityId source;
    Stance stance = Stance::in_favour;  // as it counts: a "probably not" counts against
    double reliability = 0;             // as it counts: capped, hedged; 0 with no_basis
    Role role = Role::own;
    EntityId root;                      // of a copy: the source it goes back to
};
std::string word_for(ReadingShown::Role role);

struct Weight {
    ClaimRef claim;
    Masses masses;
    double support = 0;      // 0 where every world is contradictory
    double possibility = 0;
    Method method = Method::exact;
    double half_width = 0;   // at 95 %, of sampled figures; 0: exact
    std::size_t worlds = 0;  // drawn
    Clarity clarity = Clarity::clear;
    bool normalised = true;  // false: too few worlds without contradiction to normalise; show the masses only
    std::string words;       // for the support, on the profile's scale
    Band band;               // of the support; of sampled figures each is sampled; all three equal where nothing is explained
    std::vector<Ground> grounds_for;      // best first
    std::vector<Ground> grounds_against;  // best first
    std::vector<Influence> influence;     // largest slope first
    std::size_t roots_for = 0;            // independent sources, copies and wholly dependent ones counted once
    std::size_t roots_against = 0;
    std::vector<ReadingShown> readings;   // of the claim itself: evidence, then listings that rule it out
    std::optional<Contradiction> worst;   // the worst single contradiction in the lineage, where there is any
    std::optional<double> betting;        // where a base rate was given
    std::vector<ClaimRef> claims;         // in the lineage, the claim itself first
    std::size_t nodes = 0;                // of the decision diagrams
    std::string profile;                  // "NAME version VERSION"
};

struct JointWeight {
    double raw = 0;          // contradictions ignored
    double conditioned = 0;  // in the worlds where no claim of the lineage contradicts itself
    double uncontested = 0;  // by claims that are supported and not refuted
    double consistent = 1;   // P(no contradiction)
    Method method = Method::exact;
    double half_width = 0;
    std::size_t worlds = 0;
    bool normalised = true;
    std::optional<Contradiction> worst;
    Band band;               // of the conditioned figure
    std::vector<Influence> influence;
    std::vector<ClaimRef> claims;
    std::size_t nodes = 0;
    std::string profile;
};

}  // namespace saggar
