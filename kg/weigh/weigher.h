// Weighs claims and chains of claims as the evidence of one snapshot has them.
//
// A claim's lineage is everything that can decide it: its readings, lists that leave it out, rivals, arguments and their
// premises, copies and families of sources. The weigher collects it (gather.h), says when each reading is good (reading_events.h),
// builds the events (case_lineage.h) and has it worked out (figures.h). Nothing depends on the order in which records
// were entered.
//
//   Weigher weigher(*snapshot);
//   double s = weigher.support(claim);                 // remembered; what a search asks thousands of times
//   Weight w = weigher.weigh(claim);                   // everything, with grounds and influence
//   JointWeight j = weigher.joint(chains);             // any of the chains holds
//
// A Weigher is used by one thread and must not outlive its snapshot. Faults: StoreFault; UsageFault where a claim is not
// in force or the graph's profile is unsound.
#pragma once

#include <map>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "kg/model/record.h"
#include "kg/weigh/claim_web.h"
#include "kg/weigh/weight.h"

namespace saggar {

class AnswerBook;
class Profile;
class Snapshot;

struct WeighOptions {
    std::size_t node_budget = 0;            // 0: the profile's
    std::map<std::string, double> what_if;  // by key of a source: its reliability, 0..1, in place of the graph's
    std::vector<ContentId> without;         // evidence, lists and arguments to leave out
    // Keys of sources: as if nothing had been taken down from them, their readings and lists withdrawn. What copies them
    // still goes back to them; with a reliability of 0 it would fall with them.
    std::vector<std::string> without_sources;
    std::optional<double> base_rate;        // 0..1: gives the betting figure
    bool explain = true;                    // false: no grounds, influence, band
    bool rivals = true;                     // false: claims that exclude each other are weighed as if they did not;
                                            // for whoever settles the conflict himself, as dating does
};

// Claims that must all hold.
using Chain = std::vector<ClaimRef>;

class Weigher {
public:
    // With the profile stored with the graph. `book` keeps answers over snapshots (answer_book.h); weighers may share one.
    explicit Weigher(const Snapshot& snapshot, std::shared_ptr<AnswerBook> book = nullptr);
    Weigher(const Snapshot& snapshot, Profile profile);
    ~Weigher();
    Weigher(Weigher&&) noexcept;
    Weigher& operator=(Weigher&&) noexcept;

    const Profile& profile() const;

    // for / (1 - both). Remembered.
    double support(ClaimRef claim);
    // As support, rivals left aside. Remembered.
    double support_alone(ClaimRef claim);
    Masses masses(ClaimRef claim);
    // Of a claim that nobody has made, as if it stood in the graph with nothing read for it: complete lists that leave it
    // out and the same claim under other names still speak. A claim that somebody has made is weighed as it is.
    Masses masses_if_claimed(const Claim& claim);
    Weight weigh(ClaimRef claim, const WeighOptions& options = {});
    // That at least one of the chains holds, over the union of their lineages. One chain: that all its claims hold;
    // one claim to a chain: that any of them does. No chain: never.
    JointWeight joint(std::span<const Chain> chains, const WeighOptions& options = {});
    // That some way through the web holds, however many ways there are.
    JointWeight joint(const ClaimWeb& web, const WeighOptions& options = {});

private:
    struct State;
    std::unique_ptr<State> state_;
};

}  // namespace saggar
