#include "kg/model/recorders.h"

#include <catch2/catch.hpp>

using namespace saggar;

namespace {

struct Recorded {
    std::string by, on;
    bool add(const Recorded& other) { return add_recorder(by, on, other.by, other.on); }
    bool operator==(const Recorded&) const = default;
};

}  // namespace

TEST_CASE("two people who took down the same are both named, with their days", "[recorders]") {
    Recorded ann{"Ann", "2026-03-02"};
    CHECK(ann.add({"Bea", "2026-03-01"}));
    CHECK(ann == Recorded{"Ann (2026-03-02); Bea (2026-03-01)", "2026-03-01"});
    CHECK_FALSE(ann.add({"Bea", "2026-03-01"}));
    CHECK_FALSE(ann.add({"", ""}));
    CHECK_FALSE(ann.add(ann));
    CHECK(ann.add({"Cai", ""}));
    CHECK(ann.by == "Ann (2026-03-02); Bea (2026-03-01); Cai");
    Recorded nobody;
    CHECK(nobody.add({"Ann", "2026-03-02"}));
    CHECK(nobody == Recorded{"Ann", "2026-03-02"});
    CHECK_FALSE(nobody.add({"Ann", "2026-03-02"}));
}

TEST_CASE("adding recorders is commutative and associative", "[recorders]") {
    const Recorded one{"Ann", "2026-03-02"}, two{"Bea", "2026-03-01"}, three{"Cai (works)", ""};
    Recorded left = one, right = three, other = two;
    left.add(two);
    left.add(three);
    right.add(one);
    right.add(two);
    other.add(three);
    Recorded last = one;
    last.add(other);
    CHECK(left == right);
    CHECK(left == last);
}
