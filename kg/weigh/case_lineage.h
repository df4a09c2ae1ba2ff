// The lineage of a case: for each claim, when it is supported, when refuted, when both.
//
// A claim is supported when one of its readings for it is good, or an argument for it holds: all premises supported and
// the step good. It is refuted when a reading against it is good, a list rules it out, an argument against it holds, or
// an exclusive rival is supported. Support is the least fixpoint from the evidence: arguments that go in a circle give
// nothing. A world in which some claim of the question is both is contradictory; figures are conditioned on there being
// none, which also stops arguments from refuted premises (evidence.md, sections 2 and R9).
//
// Cost: linear in the case, but quadratic in the size of a circle of arguments (one round for each claim in it).
#pragma once

#include <vector>

#include "kg/weigh/case.h"
#include "kg/weigh/chances.h"
#include "kg/weigh/lineage.h"
#include "kg/weigh/reading_events.h"

namespace saggar {

class CaseLineage {
public:
    using Event = weighing::Event;

    // Keeps a reference to the case.
    explicit CaseLineage(const Case& question);
    CaseLineage(const CaseLineage&) = delete;
    CaseLineage& operator=(const CaseLineage&) = delete;

    Event supported(CaseIndex claim) const { return supported_[claim]; }
    Event refuted(CaseIndex claim) const { return refuted_[claim]; }
    Event contradiction(CaseIndex claim) { return lineage_.both(supported_[claim], refuted_[claim]); }
    // No claim of the question is both.
    Event consistent() const { return consistent_; }
    Event step(CaseIndex claim, std::size_t argument) const { return steps_[claim][argument]; }

    // What to look at in turn: each claim's support beside its refutation, premises and rivals before what they decide.
    std::vector<Event> order() const;

    ReadingEvents& readings() { return readings_; }
    weighing::Lineage& lineage() { return lineage_; }
    // One for each variable of the lineage.
    const std::vector<ChanceTerm>& terms() const { return terms_; }

private:
    void add_direct_and_steps();
    void add_support();
    void solve_circle(const std::vector<CaseIndex>& circle);
    Event support_once(CaseIndex claim);
    Event argument_holds(CaseIndex claim, std::size_t argument);
    void add_refutation();

    const Case& case_;
    weighing::Lineage lineage_;
    std::vector<ChanceTerm> terms_;
    ReadingEvents readings_;
    std::vector<Event> direct_for_, direct_against_;
    std::vector<std::vector<Event>> steps_;  // by claim and argument
    std::vector<Event> supported_, refuted_;
    Event consistent_ = Event::always();
};

// Groups of claims that rest on each other through arguments, each group after those it rests on; most have one member.
// Tarjan, "Depth-first search and linear graph algorithms" (1972), with its own stack.
std::vector<std::vector<CaseIndex>> groups_by_support(const Case& question);

}  // namespace saggar
