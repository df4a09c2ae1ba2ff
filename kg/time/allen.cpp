#include "kg/time/allen.h"

#include <algorithm>
#include <array>
#include <bit>
#include <vector>

namespace saggar::time {

namespace {

using Number = std::int64_t;

// Half-open: from `start` up to, not including, `end`.
struct AllenInterval {
    Number start;
    Number end;
};

Allen relation_of_intervals(const AllenInterval& a, const AllenInterval& b) {
    if (a.end < b.start) return Allen::before;
    if (a.end == b.start) return Allen::meets;
    if (b.end < a.start) return Allen::after;
    if (b.end == a.start) return Allen::met_by;
    if (a.start == b.start) return a.end == b.end ? Allen::equals : a.end < b.end ? Allen::starts : Allen::started_by;
    if (a.end == b.end) return a.start > b.start ? Allen::finishes : Allen::finished_by;
    if (a.start < b.start) return a.end < b.end ? Allen::overlaps : Allen::contains;
    return a.end < b.end ? Allen::during : Allen::overlapped_by;
}

using AllenTable = std::array<std::array<AllenSet, allen_count>, allen_count>;

AllenTable make_composition_table() {
    std::vector<AllenInterval> intervals;
    for (Number start = 0; start < 6; ++start) {
        for (Number end = start + 1; end < 6; ++end) intervals.push_back({start, end});
    }
    AllenTable table{};
    for (const auto& a : intervals) {
        for (const auto& b : intervals) {
            auto& row = table[static_cast<std::size_t>(relation_of_intervals(a, b))];
            for (const auto& c : intervals) {
                AllenSet& cell = row[static_cast<std::size_t>(relation_of_intervals(b, c))];
                cell = cell | relation_of_intervals(a, c);
            }
        }
    }
    return table;
}

// Four ends and zero; row i, column j: how much end j may at most lie after end i.
constexpr int zero = 4;
constexpr Number no_limit = 4'000'000'000'000'000'000;
using AllenEnds = std::array<std::array<Number, 5>, 5>;

void limit(AllenEnds& ends, int from, int to, Number at_most) {
    Number& bound = ends[static_cast<std::size_t>(from)][static_cast<std::size_t>(to)];
    bound = std::min(bound, at_most);
}

void put_between(AllenEnds& ends, int end, Day first, Day last, Number shift) {
    if (last != after_all) limit(ends, zero, end, last.count + shift);
    if (first != before_all) limit(ends, end, zero, -(first.count + shift));
}

// Closes the bounds under going by way of another end. False: they cannot all hold.
bool close_bounds(AllenEnds& ends) {
    for (std::size_t via = 0; via < 5; ++via) {
        for (std::size_t from = 0; from < 5; ++from) {
            for (std::size_t to = 0; to < 5; ++to) {
                if (ends[from][via] == no_limit || ends[via][to] == no_limit) continue;
                ends[from][to] = std::min(ends[from][to], ends[from][via] + ends[via][to]);
            }
        }
    }
    for (std::size_t end = 0; end < 5; ++end) {
        if (ends[end][end] < 0) return false;
    }
    return true;
}

// Ends 0 and 1 are those of a, 2 and 3 those of b.
AllenEnds ends_of(const Bounds& a, const Bounds& b) {
    AllenEnds ends;
    for (std::size_t i = 0; i < 5; ++i) {
        ends[i].fill(no_limit);
        ends[i][i] = 0;
    }
    put_between(ends, 0, a.earliest_start.day, a.latest_start.day, 0);
    put_between(ends, 1, a.earliest_end.day, a.latest_end.day, 1);
    put_between(ends, 2, b.earliest_start.day, b.latest_start.day, 0);
    put_between(ends, 3, b.earliest_end.day, b.latest_end.day, 1);
    limit(ends, 1, 0, -1);
    limit(ends, 3, 2, -1);
    return ends;
}

void put_in_order(AllenEnds& ends, int one, int other, Number order) {
    if (order <= 0) limit(ends, other, one, order < 0 ? -1 : 0);
    if (order >= 0) limit(ends, one, other, order > 0 ? -1 : 0);
}

Number sign(Number number) {
    return number < 0 ? -1 : number > 0 ? 1 : 0;
}

// One pair of intervals for each relation, found among those over four points: its order of ends defines the relation.
std::array<std::array<AllenInterval, 2>, allen_count> make_examples() {
    std::array<std::array<AllenInterval, 2>, allen_count> examples{};
    for (Number start = 0; start < 4; ++start) {
        for (Number end = start + 1; end < 4; ++end) {
            for (Number other_start = 0; other_start < 4; ++other_start) {
                for (Number other_end = other_start + 1; other_end < 4; ++other_end) {
                    const AllenInterval a{start, end};
                    const AllenInterval b{other_start, other_end};
                    examples[static_cast<std::size_t>(relation_of_intervals(a, b))] = {a, b};
                }
            }
        }
    }
    return examples;
}

}  // namespace

std::string_view name_of(Allen relation) {
    switch (relation) {
        case Allen::before:
            return "before";
        case Allen::meets:
            return "meets";
        case Allen::overlaps:
            return "overlaps";
        case Allen::starts:
            return "starts";
        case Allen::during:
            return "during";
        case Allen::finishes:
            return "finishes";
        case Allen::equals:
            return "equals";
        case Allen::finished_by:
            return "finished by";
        case Allen::contains:
            return "contains";
        case Allen::started_by:
            return "started by";
        case Allen::overlapped_by:
            return "overlapped by";
        case Allen::met_by:
            return "met by";
        case Allen::after:
            return "after";
    }
    return "";
}

Allen inverse(Allen relation) {
    switch (relation) {
        case Allen::before:
            return Allen::after;
        case Allen::meets:
            return Allen::met_by;
        case Allen::overlaps:
            return Allen::overlapped_by;
        case Allen::starts:
            return Allen::started_by;
        case Allen::during:
            return Allen::contains;
        case Allen::finishes:
            return Allen::finished_by;
        case Allen::equals:
            return Allen::equals;
        case Allen::finished_by:
            return Allen::finishes;
        case Allen::contains:
            return Allen::during;
        case Allen::started_by:
            return Allen::starts;
        case Allen::overlapped_by:
            return Allen::overlaps;
        case Allen::met_by:
            return Allen::meets;
        case Allen::after:
            return Allen::before;
    }
    return Allen::equals;
}

int AllenSet::size() const {
    return std::popcount(bits_);
}

Allen relation_of(const DayRange& a, const DayRange& b) {
    return relation_of_intervals({a.first.count, a.last.count + 1}, {b.first.count, b.last.count + 1});
}

AllenSet possible_relations(const Bounds& a, const Bounds& b) {
    static const auto examples = make_examples();
    const AllenEnds free = ends_of(a, b);
    AllenSet possible;
    for (int i = 0; i < allen_count; ++i) {
        const auto& [one, other] = examples[static_cast<std::size_t>(i)];
        AllenEnds ends = free;
        put_in_order(ends, 0, 2, sign(one.start - other.start));
        put_in_order(ends, 0, 3, sign(one.start - other.end));
        put_in_order(ends, 1, 2, sign(one.end - other.start));
        put_in_order(ends, 1, 3, sign(one.end - other.end));
        if (close_bounds(ends)) possible = possible | static_cast<Allen>(i);
    }
    return possible;
}

AllenSet compose(Allen a_to_b, Allen b_to_c) {
    static const AllenTable table = make_composition_table();
    return table[static_cast<std::size_t>(a_to_b)][static_cast<std::size_t>(b_to_c)];
}

AllenSet compose(AllenSet a_to_b, AllenSet b_to_c) {
    AllenSet possible;
    for (int i = 0; i < allen_count; ++i) {
        for (int j = 0; j < allen_count; ++j) {
            const auto first = static_cast<Allen>(i);
            const auto second = static_cast<Allen>(j);
            if (a_to_b.contains(first) && b_to_c.contains(second)) possible = possible | compose(first, second);
        }
    }
    return possible;
}

AllenSet inverse(AllenSet relations) {
    AllenSet turned;
    for (int i = 0; i < allen_count; ++i) {
        if (relations.contains(static_cast<Allen>(i))) turned = turned | inverse(static_cast<Allen>(i));
    }
    return turned;
}

std::string to_words(AllenSet relations) {
    if (relations.empty()) return "impossible";
    if (relations == AllenSet::all()) return "any";
    std::vector<std::string_view> names;
    for (int i = 0; i < allen_count; ++i) {
        if (relations.contains(static_cast<Allen>(i))) names.push_back(name_of(static_cast<Allen>(i)));
    }
    if (names.size() == 1) return "certainly " + std::string(names[0]);
    std::string words;
    for (std::size_t i = 0; i < names.size(); ++i) {
        if (i > 0) words += i + 1 == names.size() ? " or " : ", ";
        words += names[i];
    }
    return words;
}

}  // namespace saggar::time
