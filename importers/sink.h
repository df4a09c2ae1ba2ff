// Where importers put what they read.
//
// An importer streams records into a Sink and never sees the graph. The sink may refuse a record; it says so by adding
// a problem at the place the importer gave.
#pragma once

#include <span>
#include <string_view>

#include "kg/model/problem.h"
#include "kg/model/record.h"

namespace saggar {

// Where one field of a record stands in the file, so that a caret can point at it.
struct FieldPlace {
    std::string_view field;  // name of the record's field: "subject", "relation", "object", "when", "source", "key", ...
    std::uint32_t line = 0;
    std::uint32_t column = 0;  // code points, from 1
    std::uint32_t length = 0;  // code points
    std::string_view text;     // the line or cell the column counts in
};

// Where a record stands: its file, its first line, and what is known of its fields. Views live only during the call.
struct Origin {
    std::string_view file;
    std::uint32_t line = 0;
    std::uint32_t column = 0;
    std::string_view text;
    std::span<const FieldPlace> fields;

    // The place of a field; the place of the whole record where the field is not listed.
    Place place_of(std::string_view field) const;
};

// Not thread-safe; one importer writes to it.
class Sink {
public:
    virtual ~Sink() = default;
    virtual void put(Record record, const Origin& origin) = 0;
};

}  // namespace saggar
