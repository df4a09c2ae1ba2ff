// The one piece of evidence that would settle a dispute, as far as anything can.
//
// A dispute counts as decided when every view is supported at `settled_at` or better or at 1 - `settled_at` or worse (a
// convention). While it is open, the least trusted grade of the profile is looked for whose plain word would decide it
// whichever way it spoke; one that nobody has been read for yet goes before the others. Where none would, a source already cited is looked
// for whose misreading would decide it. Once it is decided and still contradictory, what is missing is why the other side says
// what it says: the source without which least contradiction is left.
// A new independent reading of reliability r for a claim with masses for, against, both, neither makes them
// for + r neither, (1 - r) against, both + r against, (1 - r) neither; against it likewise, and for a claim it excludes it is one
// against. Exact, because the reading is independent of everything there.
#pragma once

#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "kg/store/snapshot.h"
#include "kg/weigh/weigher.h"

namespace saggar {

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
    // A second look: at this source; what would be left if everything read in it were misread.
    EntityId source;
    double if_misread = 0;       // support of the claim
    double both_if_misread = 0;  // the largest contradictory mass of a view
    bool settles = false;        // decided whichever way it turned out; of a second look: if it were misread
    bool clears = false;         // the dispute is decided already; this would take most of its contradiction away
};

// The masses after one more independent reading.
Masses with_reading(const Masses& masses, double reliability, Stance stance);

// Claims that cannot both hold, both ways round.
using Excluding = std::set<std::pair<ClaimRef, ClaimRef>>;

// `views`: the claims in dispute with their weights, the most supported first; readings and influence filled in. Nothing
// where the dispute is decided and hardly contradictory, or where nothing would help.
std::optional<MissingEvidence> missing_evidence(const Snapshot& snapshot, Weigher& weigher, const std::vector<Weight>& views,
                                                const Excluding& excluding);

}  // namespace saggar
