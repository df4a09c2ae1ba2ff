// Solves the limits on time points while leaving claims out, and finds what claims contradict each other.
//
// A limit counts when none of its claims is left out. A period ("made while its painter worked there") is a choice between
// stints: a stint that cannot hold together with everything else is struck out, again and again until none is left to strike,
// and the hull of those that remain bounds the point. Where a contradiction is found, it is cut down to claims none of which
// can be spared. One network solution (kg/time/network.h) for each stint and each claim tried.
#pragma once

#include <functional>
#include <vector>

#include "kg/time/network.h"
#include "queries/date_constraints.h"

namespace saggar {

// A stint of a period that cannot have been, and the claims that exclude it (with its own).
struct StruckStint {
    std::size_t period = 0;
    std::size_t stint = 0;
    std::vector<ClaimRef> because;
};

struct DateOutcome {
    bool consistent = true;
    std::vector<ClaimRef> contradiction;  // sorted, minimal; empty where consistent
    time::TimeNetwork network;            // with the hulls of periods; limits carry labels as reasons_of() takes them
    time::TimeSolution solution;
    std::vector<StruckStint> struck;
};

class DateSolver {
public:
    using Keep = std::function<bool(ClaimRef)>;

    // The constraints must outlive the solver.
    explicit DateSolver(const DateConstraints& constraints) : its_(constraints) {}

    DateOutcome solve(const Keep& keep) const;

    // The claims behind a label of a network this solver made; for a period, also what struck out its other stints.
    std::vector<ClaimRef> claims_of(time::TimeLabel label, const DateOutcome& outcome) const;
    // Null unless the label is that of an order or of dating claims.
    const DateReason* reason_of(time::TimeLabel label) const;
    // Null unless the label is that of a period.
    const DatePeriod* period_of(time::TimeLabel label) const;

private:
    bool strike_stints(const Keep& keep, DateOutcome& outcome) const;
    void add_claims(const std::vector<time::TimeLabel>& labels, const DateOutcome& outcome,
                    std::vector<ClaimRef>& claims) const;
    time::TimeNetwork network_of(const Keep& keep) const;
    DateOutcome try_to_solve(const Keep& keep) const;
    std::vector<ClaimRef> cut_down(std::vector<ClaimRef> claims) const;

    const DateConstraints& its_;
};

}  // namespace saggar
