// JSON (RFC 8259) read with the place of every value, so that a problem can put its caret under the right one.
//
// One pass, no recursion: nesting is held on a stack and refused beyond a limit. Duplicate member names, lone
// surrogates, U+0000 and text after the value are refused. Numbers stay as written; whoever wants a number reads it.
// Nodes live in one vector; strings without escapes are views of the text. About 200 MB/s.
#pragma once

#include <cstdint>
#include <deque>
#include <string>
#include <string_view>
#include <vector>

#include "kg/model/text_lines.h"

namespace saggar {

struct JsonNode {
    enum class Type : std::uint8_t { null, boolean, number, string, array, object };
    Type type = Type::null;
    bool truth = false;       // of a boolean
    std::uint32_t count = 0;  // members or elements
    std::uint32_t begin = 0;  // bytes of the text, with quotes and brackets
    std::uint32_t end = 0;
    std::uint32_t key_begin = 0;  // bytes of the member's name, with quotes; equal to key_end outside objects
    std::uint32_t key_end = 0;
    std::string_view key;     // name of a member, unescaped
    std::string_view text;    // a string unescaped, a number as written
    std::uint32_t first = 0;  // first child, 0: none (node 0 is the root and nobody's child)
    std::uint32_t next = 0;   // next sibling, 0: none

    bool is(Type other) const { return type == other; }
};

// What to call a type in a message: "a string", "an object".
std::string_view name_of(JsonNode::Type type);

// One parsed text. Reusable: parsing again keeps the memory. Views point into the text or into the tree.
class JsonTree {
public:
    static constexpr std::size_t deepest = 64;
    static constexpr std::size_t longest = 1u << 31;

    // Reads exactly one value. On failure adds one problem (ids json-...) and returns false.
    bool parse(const TextLines& text, Problems& problems);

    const JsonNode& root() const { return nodes_.front(); }
    const JsonNode* first(const JsonNode& node) const { return at(node.first); }
    const JsonNode* next(const JsonNode& node) const { return at(node.next); }
    // Nothing where `object` is no object or has no such member.
    const JsonNode* member(const JsonNode& object, std::string_view key) const;

private:
    friend class JsonParser;
    const JsonNode* at(std::uint32_t index) const { return index == 0 ? nullptr : &nodes_[index]; }

    std::vector<JsonNode> nodes_;
    std::deque<std::string> unescaped_;
};

// A finite double; false where the text is not a JSON number or too large.
bool read_json_number(std::string_view text, double& number);

}  // namespace saggar
