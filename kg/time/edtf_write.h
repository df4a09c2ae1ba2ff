// Writes EDTF in one normal form: the same meaning always gives the same text.
//
// Qualifiers are written once after the longest run of leading components that share them, the rest before their own
// component: ?2004-06-~11 is written 2004?-06-~11, and ?2004-?06-?11 is written 2004-06-11?. Everything else is kept as
// it is. For every value x that can be read, read_edtf(write_edtf(x)) == x. Linear.
#pragma once

#include <string>

#include "kg/time/edtf.h"

namespace saggar::time {

std::string write_edtf(const Edtf& edtf);
std::string write_edtf(const Date& date);

}  // namespace saggar::time
