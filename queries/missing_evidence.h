// The one piece of evidence that would settle a dispute, as far as anything can.
//
// A dispute counts as settled when one view is supported at `settled_at` or better and every other at 1 - `settled_at` or
// worse (a convention). Of the grades of the profile, the least trusted one is looked for whose plain word would settle
// the dispute whichever way it spoke; one that nobody has been read for yet goes before the others. Where none would, it
// is the word of a source already cited that has to be looked at again: the one without which the answer moves most.
// A new independent reading of reliability r for a claim with masses for, against, both, neither makes them
// for + r neither, (1 - r) against, both + r against, (1 - r) neither; a rival's are found likewise, by the other side.
// Exact, because the reading is independent of everything there.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "kg/store/snapshot.h"
#include "kg/weigh/weight.h"

namespace saggar {

class Profile;

inline constexpr double settled_at = .8;

struct MissingEvidence {
    enum class Kind : std::uint8_t { new_reading, second_look };
    Kind kind = Kind::new_reading;
    ClaimRef claim;            // the view it would speak of
    // A new reading: by its grade, and the support of the claim if it spoke for and if it spoke against it.
    std::string grade;         // name in the profile
    std::string grade_label;
    double reliability = 0;
    double if_for = 0;
    double if_against = 0;
    bool first_of_its_kind = false;  // no source of this grade speaks of the dispute yet
    // A second look: at this source; the support of the claim if it were misread.
    EntityId source;
    double if_misread = 0;
    bool settles = false;      // whichever way it turned out; of a second look: if it were misread
};

// The masses after one more independent reading.
Masses with_reading(const Masses& masses, double reliability, Stance stance);

// `views`: the claims in dispute with their weights, the most supported first; grounds and influence filled in.
// `rivals`: at most one of the views can hold. Nothing where no view has a weight.
std::optional<MissingEvidence> missing_evidence(const Snapshot& snapshot, const Profile& profile,
                                                const std::vector<Weight>& views, bool rivals);

}  // namespace saggar
