// How two runs can lie to each other in time: Allen's thirteen relations, for runs whose ends are known only within
// bounds.
//
// J. F. Allen, "Maintaining Knowledge about Temporal Intervals", Communications of the ACM 26(11), 1983. A run covers
// whole days from its first to its last; it meets another when that one starts on the day after. The table of
// composition is not typed in but found by trying all triples of intervals over six points, which is enough for every
// order of six ends. Cost: O(1). Thread-safe.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "kg/time/bounds.h"

namespace saggar::time {

enum class Allen : std::uint8_t {
    before,
    meets,
    overlaps,
    starts,
    during,
    finishes,
    equals,
    finished_by,
    contains,
    started_by,
    overlapped_by,
    met_by,
    after,
};
inline constexpr int allen_count = 13;

// "before", "overlapped by" ...
std::string_view name_of(Allen relation);
// The relation of b to a, for the relation of a to b.
Allen inverse(Allen relation);

// A set of the thirteen relations: what is still possible.
class AllenSet {
public:
    constexpr AllenSet() = default;
    constexpr AllenSet(Allen one) : bits_(static_cast<std::uint16_t>(1u << static_cast<unsigned>(one))) {}
    static constexpr AllenSet all() { return AllenSet(static_cast<std::uint16_t>((1u << allen_count) - 1)); }
    constexpr bool contains(Allen one) const { return (bits_ >> static_cast<unsigned>(one) & 1u) != 0; }
    constexpr bool empty() const { return bits_ == 0; }
    int size() const;
    constexpr AllenSet operator|(AllenSet other) const {
        return AllenSet(static_cast<std::uint16_t>(bits_ | other.bits_));
    }
    constexpr AllenSet operator&(AllenSet other) const {
        return AllenSet(static_cast<std::uint16_t>(bits_ & other.bits_));
    }
    constexpr bool operator==(const AllenSet&) const = default;

private:
    constexpr explicit AllenSet(std::uint16_t bits) : bits_(bits) {}
    std::uint16_t bits_ = 0;
};

// The relation of the run a.first..a.last to b.first..b.last; both must end no earlier than they start.
Allen relation_of(const DayRange& a, const DayRange& b);
// The relations that some choice of days within the bounds brings about. Never empty for bounds made by bounds_of.
AllenSet possible_relations(const Bounds& a, const Bounds& b);
// The relations of a to c that are possible when a to b and b to c are the given ones.
AllenSet compose(Allen a_to_b, Allen b_to_c);
AllenSet compose(AllenSet a_to_b, AllenSet b_to_c);
AllenSet inverse(AllenSet relations);

// "certainly before", "overlaps or meets", "before, meets or overlaps", "any", "impossible".
std::string to_words(AllenSet relations);

}  // namespace saggar::time
