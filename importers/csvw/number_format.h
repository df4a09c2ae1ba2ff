// Numbers in cells: plain ones, and ones written after a number pattern (Unicode Technical Standard 35, part 3, section
// 3).
//
//   pattern = positive [";" negative]     positive = [prefix] integer ["." fraction] ["E" ["+"] 1*"0"] [suffix]
//   integer = *"#" *"0" with "," between groups;  fraction = *"0" *"#";  prefix and suffix: + - % and U+2030
//
// A number that is read becomes a plain decimal text: no groups, a point, no exponent, percent and per mille divided
// out. NaN, INF and -INF stay as they are. Linear in the text.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace saggar::csvw {

struct NumberPattern {
    std::size_t least_integer = 0;
    std::size_t primary_group = 0;    // digits of the group nearest the point; 0: no groups
    std::size_t secondary_group = 0;  // of the further groups
    std::size_t least_fraction = 0;
    std::size_t most_fraction = 0;
    bool exponent = false;
    std::size_t least_exponent = 0;
    bool exponent_plus = false;
    bool plus = false;   // a sign is written for positive numbers too
    std::string suffix;  // "%" or the per mille sign

    // Nothing where the text is no pattern this reads. The pattern is written with these signs for point and group.
    static std::optional<NumberPattern> parse(std::string_view text, std::string_view decimal = ".",
                                              std::string_view group = ",");
};

struct NumberFormat {
    std::string decimal = ".";
    std::string group;  // empty: none
    std::optional<NumberPattern> pattern;
};

// The number as plain decimal text; nothing where the text is not one in this format, and `why` says so.
// `exponent_allowed`: for float and double; without a pattern decimals have none.
std::optional<std::string> read_number(std::string_view text, const NumberFormat& format, bool exponent_allowed,
                                       std::string& why);

}  // namespace saggar::csvw
