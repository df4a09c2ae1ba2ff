// Property paths as SPARQL 1.1 writes them: which chains of relations a trace may follow.
//
//   PathAlternative ::= PathSequence ( '|' PathSequence )*
//   PathSequence    ::= PathEltOrInverse ( '/' PathEltOrInverse )*
//   PathEltOrInverse::= PathElt | '^' PathElt
//   PathElt         ::= PathPrimary ( '?' | '*' | '+' )?
//   PathPrimary     ::= NAME | '!' PathNegatedPropertySet | '(' PathAlternative ')'
//   PathNegatedPropertySet  ::= PathOneInPropertySet | '(' ( PathOneInPropertySet ( '|' PathOneInPropertySet )* )? ')'
//   PathOneInPropertySet    ::= NAME | '^' NAME
//
// after rules 89 to 96 of the SPARQL 1.1 Query Language (W3C Recommendation, 21 March 2013, section 19.8). NAME is a
// relation of the vocabulary, or the inverse name of one: `commissioned` is `^commissioned-by`. There are no prefixes and no
// keyword `a`. A symmetric relation holds both ways, so it may be walked either way.
//
// The parser keeps its own stack (no recursion), reads text of at most 4096 bytes and 256 steps, and leaves the path in postfix order.
// Cost: linear. Stages: path (text to postfix), path_automaton (postfix to states), trace (states along the graph).
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "kg/model/problem.h"
#include "kg/model/vocabulary.h"

namespace saggar {

inline constexpr std::size_t longest_path = 4096;
inline constexpr std::size_t most_path_symbols = 256;

// One step of a path: the relations it may follow, and which way.
struct PathSymbol {
    bool negated = false;                // any relation but those listed
    bool forward_side = false;           // negated only: whether steps from subject to object are meant at all
    bool inverse_side = false;           // negated only: the same for steps from object to subject
    std::vector<RelationIndex> forward;  // sorted
    std::vector<RelationIndex> inverse;  // sorted

    // Whether a claim of this relation fits when walked from subject to object (forward) or back.
    bool fits(RelationIndex relation, bool walked_forward) const;
    bool operator==(const PathSymbol&) const = default;
};

enum class PathOperator : std::uint8_t {
    symbol,
    sequence,
    alternative,
    zero_or_more,
    one_or_more,
    zero_or_one,
    inverse
};

struct PathStep {
    PathOperator op = PathOperator::symbol;
    std::uint32_t symbol = 0;  // of `symbol` steps: index into PathExpression::symbols
    bool operator==(const PathStep&) const = default;
};

struct PathExpression {
    std::string text;
    std::vector<PathSymbol> symbols;
    std::vector<PathStep> postfix;  // never empty
    std::vector<bool> symmetric;    // by RelationIndex, and one more for relations outside the vocabulary

    RelationIndex relation_count() const { return static_cast<RelationIndex>(symmetric.size()) - 1; }
    // The index of relations that the vocabulary does not know; only negated sets fit them.
    RelationIndex unknown_relation() const { return relation_count(); }
};

// Reads a path. Nothing where it is faulty: one problem is added, with the slice and the next step.
std::optional<PathExpression> parse_path(std::string_view text, const Vocabulary& vocabulary, Problems& problems);

// One or more steps over any relation, either way: `(!()|^!())+`. What a trace follows when no path is given.
PathExpression any_path(const Vocabulary& vocabulary);

}  // namespace saggar
