// A property path as a machine that reads one step of a chain after another.
//
// Idea: position automaton of the path (Glushkov 1961; McNaughton and Yamada 1960): one state for each symbol of the
// path, no empty moves. An inverse turns the part below it round. Positions with the same future are one. A set of such
// states is one state of the machine, made when it is first reached (Rabin and Scott 1959), so each chain of claims is
// read in exactly one way.
// Cost: states and moves of the position automaton are at most quadratic in the path; the machine makes only what is
// reached, and refuses more than 10 000 states (LimitFault).
// Not thread-safe: a machine learns while it reads.
#pragma once

#include <cstdint>
#include <map>
#include <vector>

#include "queries/path.h"

namespace saggar {

// The position automaton. Position 0 is the start; the others stand for the symbols in postfix order.
class PathPositions {
public:
    using Position = std::uint32_t;

    explicit PathPositions(const PathExpression& path);

    std::uint32_t count() const { return static_cast<std::uint32_t>(follow_.size()); }
    // Positions that may come next, sorted.
    const std::vector<Position>& follow(Position position) const { return follow_[position]; }
    bool accepts(Position position) const { return accepting_[position]; }
    // The first position with the same future: the same positions may follow, and both accept or neither does.
    // (a|b|c)+ has one future after any of its steps.
    Position same_future(Position position) const { return same_future_[position]; }
    // Whether the step that leads to this position fits a claim of this relation walked this way.
    bool fits(Position position, RelationIndex relation, bool walked_forward) const;
    RelationIndex relation_count() const { return path_.relation_count(); }

private:
    struct Leaf {
        std::uint32_t symbol = 0;
        bool turned = false;  // stands below an odd number of inverses
    };
    PathExpression path_;
    std::vector<Leaf> leaves_;  // by position; [0] is unused
    std::vector<std::vector<Position>> follow_;
    std::vector<bool> accepting_;
    std::vector<Position> same_future_;
};

// Reads chains step by step.
class PathMachine {
public:
    using State = std::int32_t;
    static constexpr State stuck = -1;  // no chain that begins so can fit the path

    explicit PathMachine(const PathExpression& path);

    State start() const { return 0; }
    State step(State state, RelationIndex relation, bool walked_forward);
    bool accepts(State state) const { return sets_[static_cast<std::size_t>(state)].accepting; }
    // The positions that make up a state, sorted; of those with the same future, the first.
    const std::vector<PathPositions::Position>& positions(State state) const {
        return sets_[static_cast<std::size_t>(state)].positions;
    }
    std::size_t states() const { return sets_.size(); }
    const PathPositions& automaton() const { return automaton_; }

private:
    static constexpr State not_known_yet = -2;
    struct Set {
        std::vector<PathPositions::Position> positions;
        bool accepting = false;
        std::vector<State> moves;  // by 2 * relation + walked_forward
    };
    State intern(std::vector<PathPositions::Position> positions);

    PathPositions automaton_;
    std::vector<Set> sets_;
    std::map<std::vector<PathPositions::Position>, State> known_;
};

}  // namespace saggar
