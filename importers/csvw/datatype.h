// Datatypes of cells (Metadata Vocabulary for Tabular Data, section 5.11): a base, a format, limits.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "importers/csvw/date_format.h"
#include "importers/csvw/number_format.h"
#include "importers/csvw/pattern.h"

namespace saggar::csvw {

// What kinds of reading the built-in datatypes need.
enum class TypeGroup : std::uint8_t { text, binary, boolean, integer, decimal, floating, date, duration };

struct BuiltIn {
    std::string_view name;
    TypeGroup group;
    DateType date = DateType::date;  // of dates
    std::string_view least = {};     // of integers, "" without limit
    std::string_view most = {};
};

// By its name in the metadata, aliases included ("number" is double). Null where there is none.
const BuiltIn* built_in_type(std::string_view name);

struct Datatype {
    const BuiltIn* base = built_in_type("string");
    // How values are written; what applies depends on the base.
    std::string date_pattern;
    NumberFormat number;
    std::string true_word;  // of "Y|N"; empty: true, 1
    std::string false_word;
    std::shared_ptr<const Pattern> pattern;
    // Limits.
    std::optional<std::size_t> length, least_length, most_length;
    std::optional<long double> least, most, above, below;  // inclusive, inclusive, exclusive, exclusive
};

// Whether cells of this type keep their blanks (string, json, xml, html, anyAtomicType) or their inner blanks.
bool keeps_line_ends(const Datatype& type);
bool keeps_blanks(const Datatype& type);

// The value in the lexical form of XML Schema; nothing where the text is none of this type or breaks a limit, and `why`
// says so.
std::optional<std::string> read_value(std::string_view text, const Datatype& type, std::string& why);

// A value on the number line of its type, for limits; nothing where it has none or cannot be read.
std::optional<long double> order_of_value(std::string_view text, const Datatype& type);

}  // namespace saggar::csvw
