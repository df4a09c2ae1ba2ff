// The records that operations on twin graphs draw from: few things, so that operations often meet. `n` tells which.
#pragma once

#include <string>
#include <vector>

#include "kg/model/record.h"

namespace saggar::testing {

constexpr int twin_shapes = 3;

// Every source that a reading may name: three of one circle, one that copies another.
std::vector<Source> all_sources();
Claim some_claim(int n);
Evidence some_reading(int n, const std::string& by = "");
std::vector<Record> some_dated(int n, const std::string& by);  // a dated claim and its reading
Argument some_argument(int n);
Ruling some_ruling(int n);
std::vector<Record> some_identity(int n);  // a claim, its evidence, a ruling that accepts or rejects it

}  // namespace saggar::testing
