#include "kg/model/json_write.h"

#include <charconv>

#include <fmt/format.h>

namespace saggar {

void append_json_string(std::string_view text, std::string& out) {
    out += '"';
    for (const char sign : text) {
        switch (sign) {
            case '"':
                out += "\\\"";
                break;
            case '\\':
                out += "\\\\";
                break;
            case '\n':
                out += "\\n";
                break;
            case '\r':
                out += "\\r";
                break;
            case '\t':
                out += "\\t";
                break;
            default:
                if (static_cast<unsigned char>(sign) < 0x20) {
                    out += fmt::format("\\u{:04x}", static_cast<unsigned>(sign));
                } else {
                    out += sign;
                }
        }
    }
    out += '"';
}

std::string json_string(std::string_view text) {
    std::string out;
    append_json_string(text, out);
    return out;
}

void append_json_number(double number, std::string& out) {
    char buffer[32];
    const auto [end, error] = std::to_chars(buffer, buffer + sizeof buffer, number);
    out.append(buffer, error == std::errc() ? end : buffer);
}

}  // namespace saggar
