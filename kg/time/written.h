// Dates as people write them, read into EDTF with the words kept.
//
// "ca. 1935", "c.1931-34", "early 1950s", "before 1940", "Spring 1948", and two phases in one cell ("designed 1945,
// made 1946-49"). WRITTEN.md lists every form with what it is read as; a test checks each of its rows. Whatever is not
// listed, or could mean two things (1901-02, 2/40, Feb-40, 1900s, 3/4/1948), is an error with its place, never a guess.
// English only. Cost: linear in the text. Thread-safe, no state.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "kg/time/read_error.h"

namespace saggar::time {

struct WrittenDate {
    // What happened then, in one word: "designed", "modelled", "introduced", "made", "dropped", "registered",
    // "patented", "decorated", "commissioned", "sold", "acquired"; empty where the text does not say.
    std::string label;
    std::string edtf;        // in normal form
    std::string words;       // the part of the text it was read from, label included
    std::size_t offset = 0;  // of the words, in bytes
    bool operator==(const WrittenDate&) const = default;
};

// Never an empty list. Several dates only where the text labels them (one may stay without a label).
Read<std::vector<WrittenDate>> read_written(std::string_view text);

// For a field that should hold EDTF but was filled by a person: EDTF is taken as it is (1901-02 is then February 1901), but
// 1931-34 is a run of years, as people write it, and not EDTF's second quarter of 1931 (write [1931-34] for that); 1918-22
// could be the summer of 1918 as well and is an error. Anything else is read by read_written. Of two errors the one further on in the text is given; the EDTF one where
// the text holds "..", the other where it holds blanks.
Read<std::vector<WrittenDate>> read_edtf_or_written(std::string_view text);

}  // namespace saggar::time
