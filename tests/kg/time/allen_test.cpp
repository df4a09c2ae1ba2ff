// Allen's relations: the composition table against its published size and cells, possible relations against trying
// every day.
#include "kg/time/allen.h"

#include <rapidcheck.h>

#include <catch2/catch.hpp>

#include "kg/time/edtf_read.h"

using namespace saggar::time;

namespace {

Allen relation(int index) {
    return static_cast<Allen>(index);
}

AllenSet set_of(std::initializer_list<Allen> relations) {
    AllenSet set;
    for (const Allen one : relations) set = set | one;
    return set;
}

Bounds bounds(const char* edtf) {
    return bounds_of(*read_edtf(edtf));
}

}  // namespace

TEST_CASE("the composition table has 169 cells and 409 triples") {
    // Source: the sizes are commonly given for the table of Allen 1983, figure 4 (from memory).
    int cells = 0;
    int triples = 0;
    for (int i = 0; i < allen_count; ++i) {
        for (int j = 0; j < allen_count; ++j) {
            ++cells;
            triples += compose(relation(i), relation(j)).size();
            CHECK_FALSE(compose(relation(i), relation(j)).empty());
        }
    }
    CHECK(cells == 169);
    CHECK(triples == 409);
}

TEST_CASE("cells of the composition table are those of Allen 1983") {
    // Source: J. F. Allen, CACM 26(11), 1983, figure 4 (from memory).
    using enum Allen;
    CHECK(compose(before, before) == AllenSet(before));
    CHECK(compose(before, after) == AllenSet::all());
    CHECK(compose(before, during) == set_of({before, overlaps, meets, during, starts}));
    CHECK(compose(during, before) == AllenSet(before));
    CHECK(compose(during, during) == AllenSet(during));
    CHECK(compose(during, contains) == AllenSet::all());
    CHECK(compose(contains, during) ==
          set_of({overlaps, overlapped_by, during, contains, starts, started_by, finishes, finished_by, equals}));
    CHECK(compose(overlaps, overlaps) == set_of({before, meets, overlaps}));
    CHECK(compose(overlaps, during) == set_of({overlaps, during, starts}));
    CHECK(compose(overlaps, overlapped_by) ==
          set_of({overlaps, overlapped_by, during, contains, starts, started_by, finishes, finished_by, equals}));
    CHECK(compose(meets, meets) == AllenSet(before));
    CHECK(compose(meets, during) == set_of({overlaps, during, starts}));
    CHECK(compose(meets, met_by) == set_of({finishes, finished_by, equals}));
    CHECK(compose(starts, finishes) == AllenSet(during));
    CHECK(compose(starts, started_by) == set_of({starts, started_by, equals}));
    CHECK(compose(finishes, starts) == AllenSet(during));
}

TEST_CASE("equals changes nothing, and turning a composition round turns its parts round") {
    for (int i = 0; i < allen_count; ++i) {
        CHECK(inverse(inverse(relation(i))) == relation(i));
        CHECK(compose(relation(i), Allen::equals) == AllenSet(relation(i)));
        CHECK(compose(Allen::equals, relation(i)) == AllenSet(relation(i)));
        for (int j = 0; j < allen_count; ++j) {
            CHECK(inverse(compose(relation(i), relation(j))) == compose(inverse(relation(j)), inverse(relation(i))));
        }
    }
}

TEST_CASE("runs with certain ends have one relation, in whole days") {
    CHECK(possible_relations(bounds("1931-01-01/1934-12-31"), bounds("1935-01-01/1936-12-31")) ==
          AllenSet(Allen::meets));
    CHECK(possible_relations(bounds("1931-01-01/1934-12-30"), bounds("1935-01-01/1936-12-31")) ==
          AllenSet(Allen::before));
    CHECK(possible_relations(bounds("1931-01-01/1935-01-01"), bounds("1935-01-01/1936-12-31")) ==
          AllenSet(Allen::overlaps));
    CHECK(possible_relations(bounds("1935-01-01"), bounds("1935-01-01/1936-12-31")) == AllenSet(Allen::starts));
    CHECK(possible_relations(bounds("1935-01-01"), bounds("1935-01-01")) == AllenSet(Allen::equals));
}

TEST_CASE("runs with uncertain ends keep what is possible, in words") {
    CHECK(to_words(possible_relations(bounds("1931/1934"), bounds("1936/1940"))) == "certainly before");
    CHECK(to_words(possible_relations(bounds("1931/1934"), bounds("1935/1940"))) == "before or meets");
    CHECK(to_words(possible_relations(bounds("1931/1934"), bounds("1933-01-01/1940"))) == "certainly overlaps");
    CHECK(to_words(possible_relations(bounds("1931/1934"), bounds("1934/1940"))) == "before, meets or overlaps");
    CHECK(to_words(possible_relations(bounds("1931/.."), bounds("1932/1940"))) ==
          "before, meets, overlaps, finished by or contains");
    CHECK(to_words(possible_relations(bounds("1931"), bounds("1931"))) == "any");
    CHECK(to_words(AllenSet()) == "impossible");
}

TEST_CASE("possible relations are those that some days within the bounds bring about") {
    CHECK(rc::check("possible relations by trying all days", [] {
        const auto range = [] {
            const int first = *rc::gen::inRange(0, 8);
            return DayRange{Day{first}, Day{first + *rc::gen::inRange(0, 3)}};
        };
        const DayRange start_a = range(), end_a = range(), start_b = range(), end_b = range();
        const auto make = [](const DayRange& start, const DayRange& end) {
            return Bounds{{Bound::Kind::day, start.first},
                          {Bound::Kind::day, start.last},
                          {Bound::Kind::day, end.first},
                          {Bound::Kind::day, end.last}};
        };
        AllenSet expected;
        for (auto sa = start_a.first.count; sa <= start_a.last.count; ++sa) {
            for (auto ea = std::max(sa, end_a.first.count); ea <= end_a.last.count; ++ea) {
                for (auto sb = start_b.first.count; sb <= start_b.last.count; ++sb) {
                    for (auto eb = std::max(sb, end_b.first.count); eb <= end_b.last.count; ++eb) {
                        expected = expected | relation_of({Day{sa}, Day{ea}}, {Day{sb}, Day{eb}});
                    }
                }
            }
        }
        const AllenSet possible = possible_relations(make(start_a, end_a), make(start_b, end_b));
        RC_ASSERT(possible == expected);
        RC_ASSERT(possible_relations(make(start_b, end_b), make(start_a, end_a)) == inverse(expected));
    }));
}

TEST_CASE("composing relations never loses one that days bring about") {
    CHECK(rc::check("composition is sound", [] {
        const auto run = [] {
            const int first = *rc::gen::inRange(0, 10);
            return DayRange{Day{first}, Day{first + *rc::gen::inRange(0, 6)}};
        };
        const DayRange a = run(), b = run(), c = run();
        RC_ASSERT(compose(relation_of(a, b), relation_of(b, c)).contains(relation_of(a, c)));
    }));
}
