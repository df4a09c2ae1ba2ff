// Chains of claims from one thing to another: "which retailer commissioned this line, and on whose word?"
//
// A chain passes no entity twice and follows the path given (path.h); chains are ordered by the product of the supports
// of their claims. The product treats the claims as independent and serves for the order only; the joint figure takes
// the chains together, over the union of their lineages, so evidence that several claims share is counted once.
// Accepted identities may be walked anywhere, whatever the path names: two names of one thing are one place, and the
// identity's support counts. A chain may pass through one goal on its way to another. Claims without any support are not followed.
//
// Cost: local; it grows with what is searched and weighed, not with the graph.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "kg/store/snapshot.h"
#include "kg/weigh/weigher.h"
#include "queries/chain_search.h"
#include "queries/chain_time.h"

namespace saggar {

struct TraceQuestion {
    EntityId from;
    std::optional<EntityId> to;         // where chains end; nothing: see to_kind
    std::string to_kind;                // chains end at things of this kind; empty: of any kind
    std::optional<PathExpression> via;  // nothing: any relation, either way
    std::string during;                 // EDTF: only chains whose claims may all hold on one day of it; empty: not asked
    bool with_private = true;           // false: private claims are not followed
    ChainLimits limits;
    bool weigh_together = true;         // false: leave out the joint figures
    // For the figure over all chains: up to so many claims they are taken as a web, exactly; where there are more, as
    // many of the best chains as have so few claims between them, and at most so many chains.
    std::size_t most_web_claims = 40;
    std::size_t most_listed_claims = 20;
    std::size_t most_together = 50;
};

struct TraceStep {
    ChainStep step;
    double support = 0;  // of the claim
};

struct TraceChain {
    std::vector<TraceStep> steps;
    double support = 0;  // product of the supports
    ChainTime time;
    EntityId end() const { return steps.back().step.to; }
};

struct TraceAnswer {
    EntityId from;
    std::optional<EntityId> to;
    std::string to_kind;
    std::string via;     // the path as it was given, or the one that stands for "any"
    std::string during;
    std::vector<TraceChain> chains;   // best first; equal ones by length, then by what they say
    bool complete = true;             // false: a limit was met, there may be others
    bool more = false;                // there are chains as good as the last one shown that are not shown
    std::size_t settled = 0;
    std::optional<JointWeight> joint; // that at least one of the chains shown holds
    // That at least one of all the chains there are holds, shown or not; nothing where all are shown.
    std::optional<JointWeight> joint_all;
    bool all_complete = true;         // false: joint_all rests on the best `chains_all` chains only
    std::size_t chains_all = 0;       // chains it rests on; 0: on all there are, by reachability
};

// UsageFault where a key's kind or `during` cannot be read, or a number is out of bounds. LimitFault where the path
// needs too many states. The weigher must be of the same snapshot.
TraceAnswer trace(const Snapshot& snapshot, Weigher& weigher, const TraceQuestion& question);

}  // namespace saggar
