// The slow obvious twin of the path machine: evaluates a path on a small graph by sets of pairs, as SPARQL 1.1 section
// 18.4 defines it, without any automaton. Linked only into tests.
#pragma once

#include <set>
#include <utility>
#include <vector>

#include "queries/path.h"

namespace saggar::twin {

struct Triple {
    int subject;
    RelationIndex relation;
    int object;
};

using Pairs = std::set<std::pair<int, int>>;

inline Pairs joined(const Pairs& a, const Pairs& b) {
    Pairs out;
    for (const auto& left : a)
        for (const auto& right : b)
            if (left.second == right.first) out.insert({left.first, right.second});
    return out;
}

inline Pairs one_or_more(const Pairs& step) {
    Pairs out = step;
    for (;;) {
        Pairs more = joined(out, step);
        more.insert(out.begin(), out.end());
        if (more.size() == out.size()) return out;
        out = std::move(more);
    }
}

// All pairs of nodes 0..nodes-1 that the path connects. Symmetric relations count as triples both ways.
inline Pairs pairs_of(const PathExpression& path, int nodes, const std::vector<Triple>& triples) {
    std::vector<Triple> all = triples;
    for (const Triple& t : triples)
        if (path.symmetric[t.relation]) all.push_back({t.object, t.relation, t.subject});
    Pairs same;
    for (int node = 0; node < nodes; ++node) same.insert({node, node});

    std::vector<Pairs> stack;
    const auto pop = [&stack] {
        Pairs top = stack.back();
        stack.pop_back();
        return top;
    };
    for (const PathStep& step : path.postfix) {
        if (step.op == PathOperator::symbol) {
            const PathSymbol& symbol = path.symbols[step.symbol];
            Pairs pairs;
            const auto in = [](const std::vector<RelationIndex>& list, RelationIndex relation) {
                for (const RelationIndex r : list)
                    if (r == relation) return true;
                return false;
            };
            for (const Triple& t : all) {
                if (!symbol.negated && in(symbol.forward, t.relation)) pairs.insert({t.subject, t.object});
                if (!symbol.negated && in(symbol.inverse, t.relation)) pairs.insert({t.object, t.subject});
                if (symbol.negated && symbol.forward_side && !in(symbol.forward, t.relation))
                    pairs.insert({t.subject, t.object});
                if (symbol.negated && symbol.inverse_side && !in(symbol.inverse, t.relation))
                    pairs.insert({t.object, t.subject});
            }
            stack.push_back(pairs);
            continue;
        }
        Pairs part = pop();
        Pairs out;
        switch (step.op) {
            case PathOperator::symbol: break;
            case PathOperator::sequence: out = joined(pop(), part); break;
            case PathOperator::alternative:
                out = pop();
                out.insert(part.begin(), part.end());
                break;
            case PathOperator::zero_or_more:
                out = one_or_more(part);
                out.insert(same.begin(), same.end());
                break;
            case PathOperator::one_or_more: out = one_or_more(part); break;
            case PathOperator::zero_or_one:
                out = part;
                out.insert(same.begin(), same.end());
                break;
            case PathOperator::inverse:
                for (const auto& pair : part) out.insert({pair.second, pair.first});
                break;
        }
        stack.push_back(out);
    }
    return pop();
}

}  // namespace saggar::twin
