// A JSON document (RFC 8259) read strictly, with the place of every value kept.
//
// Idea: documents that people write by hand (vocabulary, profile) deserve errors with line and column, and no silent
// surprises. So a key given twice is an error, nesting deeper than 64 is an error (both by json_tree.h, which does the
// reading), and every value and key can be pointed at afterwards by its JSON Pointer (RFC 6901), for example
// "/relations/made-by/to/0". Cost: one pass, plus one map entry for each value. Not for bulk data.
#pragma once

#include <map>
#include <memory>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <string_view>

#include "kg/model/problem.h"

namespace saggar {

class JsonDocument {
public:
    // Reads `text`; `file` is the name shown in problems. Nothing when anything is wrong; one problem (json-...) says what.
    static std::optional<JsonDocument> read(std::string_view text, std::string_view file, Problems& problems);

    // The value. Lives as long as the document.
    const nlohmann::json& root() const { return *root_; }

    // Where the value, or the key that names it, stands. The place of the whole document where the pointer is unknown.
    Place place_of_value(const std::string& pointer) const { return place(values_, pointer); }
    Place place_of_key(const std::string& pointer) const { return place(keys_, pointer); }

    // One step down from `pointer`, with "~" and "/" escaped as RFC 6901 asks.
    static std::string child(const std::string& pointer, std::string_view name);

private:
    friend class JsonDocumentMaker;
    struct Slice {
        std::size_t begin = 0;
        std::size_t end = 0;
    };
    using Slices = std::map<std::string, Slice>;

    Place place(const Slices& slices, const std::string& pointer) const;

    std::string text_;
    std::string file_;
    std::shared_ptr<const nlohmann::json> root_;
    Slices values_;
    Slices keys_;
};

}  // namespace saggar
