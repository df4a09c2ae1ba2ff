// JSON (RFC 8259) written piece by piece, without a tree: canonical strings and numbers.
#pragma once

#include <string>
#include <string_view>

namespace saggar {

// Appends `text` as a JSON string: only the quote, the backslash and controls below U+0020 are escaped.
void append_json_string(std::string_view text, std::string& out);

// `text` as a JSON string, quotes and all.
std::string json_string(std::string_view text);

// The shortest decimal that reads back as the same double.
void append_json_number(double number, std::string& out);

}  // namespace saggar
