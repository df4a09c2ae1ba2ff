// Tables of EDTF texts with what they mean in days, and the check that walks over one.
#pragma once

#include <catch2/catch.hpp>
#include <sstream>
#include <string>
#include <vector>

#include "kg/time/bounds.h"
#include "kg/time/edtf_read.h"
#include "kg/time/edtf_write.h"

// `means` is one of
//   "A"            one day
//   "A B"          one date from A to B
//   "A B C D"      the four bounds: earliest start, latest start, earliest end, latest end; ".." open, "?" unknown
//   "! S"          refused, and S is the offending part
struct EdtfCase {
    const char* text;
    const char* means;
};

inline std::string shown_bound(const saggar::time::Bound& bound) {
    using saggar::time::Bound;
    return bound.kind == Bound::Kind::open ? ".." : bound.kind == Bound::Kind::unknown ? "?" : to_text(bound.day);
}

inline void check_edtf_case(const EdtfCase& one, int level, const saggar::time::Conventions& conventions = {}) {
    using namespace saggar::time;
    INFO(one.text);
    const std::string means = one.means;
    const auto edtf = read_edtf(one.text);
    if (means[0] == '!') {
        REQUIRE_FALSE(edtf);
        CHECK(std::string(one.text).substr(edtf.error.offset, edtf.error.length) == means.substr(2));
        return;
    }
    INFO(edtf.error.reason);
    REQUIRE(edtf);
    CHECK(edtf->level == level);
    CHECK(*read_edtf(write_edtf(*edtf)) == *edtf);
    std::istringstream words(means);
    std::vector<std::string> days;
    for (std::string word; words >> word;) days.push_back(word);
    if (days.size() == 1) days.push_back(days[0]);
    if (days.size() == 2) days = {days[0], days[1], days[0], days[1]};
    REQUIRE(days.size() == 4);
    const Bounds bounds = bounds_of(*edtf, conventions);
    CHECK(shown_bound(bounds.earliest_start) == days[0]);
    CHECK(shown_bound(bounds.latest_start) == days[1]);
    CHECK(shown_bound(bounds.earliest_end) == days[2]);
    CHECK(shown_bound(bounds.latest_end) == days[3]);
}
