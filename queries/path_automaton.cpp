#include "queries/path_automaton.h"

#include <fmt/format.h>

#include <algorithm>
#include <bitset>
#include <utility>

#include "kg/model/fault.h"

namespace saggar {

namespace {

using Position = PathPositions::Position;
using Positions = std::bitset<most_path_symbols + 1>;

// What is known of a part of the path: which positions begin and end it, whether it may be empty. Its positions are
// the newest ones when it is complete, so they are a range that begins here.
struct Part {
    Positions first;
    Positions last;
    bool may_be_empty = false;
    Position begin = 0;
};

Part pop(std::vector<Part>& stack) {
    Part part = stack.back();
    stack.pop_back();
    return part;
}

void connect(std::vector<Positions>& follow, const Positions& from, const Positions& to) {
    for (std::size_t position = 0; position < follow.size(); ++position)
        if (from[position]) follow[position] |= to;
}

// Turns round the moves among the positions from `begin` on.
void transpose(std::vector<Positions>& follow, std::size_t begin) {
    for (std::size_t a = begin; a < follow.size(); ++a)
        for (std::size_t b = begin; b < a; ++b) {
            const bool there = follow[a][b];
            follow[a][b] = follow[b][a];
            follow[b][a] = there;
        }
}

std::vector<Position> listed(const Positions& positions, std::size_t count) {
    std::vector<Position> out;
    for (std::size_t position = 0; position < count; ++position)
        if (positions[position]) out.push_back(static_cast<Position>(position));
    return out;
}

}  // namespace

PathPositions::PathPositions(const PathExpression& path) : path_(path) {
    std::vector<Part> stack;
    std::vector<Positions> follow(1);
    leaves_.push_back({});
    for (const PathStep& step : path.postfix) {
        Part part;
        if (step.op == PathOperator::symbol) {
            part.begin = static_cast<Position>(leaves_.size());
            part.first.set(part.begin);
            part.last.set(part.begin);
            leaves_.push_back({step.symbol, false});
            follow.emplace_back();
            stack.push_back(part);
            continue;
        }
        part = pop(stack);
        switch (step.op) {
            case PathOperator::symbol: break;
            case PathOperator::sequence: {
                const Part right = part;
                part = pop(stack);
                connect(follow, part.last, right.first);
                if (part.may_be_empty) part.first |= right.first;
                part.last = right.may_be_empty ? part.last | right.last : right.last;
                part.may_be_empty = part.may_be_empty && right.may_be_empty;
                break;
            }
            case PathOperator::alternative: {
                const Part right = part;
                part = pop(stack);
                part.first |= right.first;
                part.last |= right.last;
                part.may_be_empty = part.may_be_empty || right.may_be_empty;
                break;
            }
            case PathOperator::zero_or_more:
                connect(follow, part.last, part.first);
                part.may_be_empty = true;
                break;
            case PathOperator::one_or_more: connect(follow, part.last, part.first); break;
            case PathOperator::zero_or_one: part.may_be_empty = true; break;
            case PathOperator::inverse:
                for (std::size_t i = part.begin; i < leaves_.size(); ++i) leaves_[i].turned = !leaves_[i].turned;
                transpose(follow, part.begin);
                std::swap(part.first, part.last);
                break;
        }
        stack.push_back(part);
    }
    const Part whole = pop(stack);
    follow[0] = whole.first;
    for (const Positions& next : follow) follow_.push_back(listed(next, leaves_.size()));
    accepting_.resize(leaves_.size());
    accepting_[0] = whole.may_be_empty;
    for (const Position position : listed(whole.last, leaves_.size())) accepting_[position] = true;
    std::map<std::pair<bool, std::vector<Position>>, Position> futures;
    for (Position position = 0; position < count(); ++position)
        same_future_.push_back(futures.emplace(std::pair(accepting_[position], follow_[position]), position).first->second);
}

bool PathPositions::fits(Position position, RelationIndex relation, bool walked_forward) const {
    const Leaf& leaf = leaves_[position];
    const PathSymbol& symbol = path_.symbols[leaf.symbol];
    const bool forward = walked_forward != leaf.turned;
    return symbol.fits(relation, forward) || (path_.symmetric[relation] && symbol.fits(relation, !forward));
}

PathMachine::PathMachine(const PathExpression& path) : automaton_(path) { intern({0}); }

PathMachine::State PathMachine::intern(std::vector<Position> positions) {
    const auto found = known_.find(positions);
    if (found != known_.end()) return found->second;
    constexpr std::size_t most_states = 10000;
    if (sets_.size() >= most_states) {
        throw LimitFault(fmt::format("the path needs more than {} states", most_states), "simplify the path");
    }
    Set set;
    set.accepting = std::any_of(positions.begin(), positions.end(), [this](Position p) { return automaton_.accepts(p); });
    set.moves.assign(2 * (static_cast<std::size_t>(automaton_.relation_count()) + 1), not_known_yet);
    set.positions = positions;
    const auto state = static_cast<State>(sets_.size());
    sets_.push_back(std::move(set));
    known_.emplace(std::move(positions), state);
    return state;
}

PathMachine::State PathMachine::step(State state, RelationIndex relation, bool walked_forward) {
    const std::size_t slot = 2 * static_cast<std::size_t>(relation) + (walked_forward ? 1 : 0);
    const State known = sets_[static_cast<std::size_t>(state)].moves.at(slot);
    if (known != not_known_yet) return known;
    std::vector<Position> reached;
    for (const Position from : sets_[static_cast<std::size_t>(state)].positions)
        for (const Position to : automaton_.follow(from))
            if (automaton_.fits(to, relation, walked_forward)) reached.push_back(automaton_.same_future(to));
    std::sort(reached.begin(), reached.end());
    reached.erase(std::unique(reached.begin(), reached.end()), reached.end());
    const State next = reached.empty() ? stuck : intern(std::move(reached));
    sets_[static_cast<std::size_t>(state)].moves[slot] = next;
    return next;
}

}  // namespace saggar
