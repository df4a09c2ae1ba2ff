#include "importers/rdf/term.h"

#include <fmt/format.h>

#include <algorithm>

#include "importers/csvw/uri_template.h"
#include "kg/model/key.h"

namespace saggar::rdf {
namespace {

bool is_letter(char sign) { return (sign >= 'a' && sign <= 'z') || (sign >= 'A' && sign <= 'Z'); }
bool is_digit(char sign) { return sign >= '0' && sign <= '9'; }

void append_escaped(std::string& out, std::string_view text) {
    for (const char sign : text) {
        const auto byte = static_cast<unsigned char>(sign);
        if (sign == '"' || sign == '\\') {
            out += '\\';
            out += sign;
        } else if (sign == '\n') {
            out += "\\n";
        } else if (sign == '\r') {
            out += "\\r";
        } else if (byte < 0x20 || byte == 0x7F) {
            out += fmt::format("\\u{:04X}", byte);
        } else {
            out += sign;
        }
    }
}

// The byte behind the closing quote of a literal term.
std::size_t literal_end(std::string_view term) {
    for (std::size_t i = 1; i < term.size(); ++i) {
        if (term[i] == '\\') {
            ++i;
        } else if (term[i] == '"') {
            return i + 1;
        }
    }
    return term.size();
}

}  // namespace

std::string iri_term(std::string_view iri) {
    std::string out = "<";
    out += iri;
    out += '>';
    return out;
}

std::string literal_term(std::string_view text) {
    std::string out = "\"";
    out.reserve(text.size() + 2);
    append_escaped(out, text);
    out += '"';
    return out;
}

std::string typed_term(std::string_view text, std::string_view datatype_iri) {
    std::string out = literal_term(text);
    if (datatype_iri == "http://www.w3.org/2001/XMLSchema#string") return out;
    out += "^^<";
    out += datatype_iri;
    out += '>';
    return out;
}

std::string tagged_term(std::string_view text, std::string_view tag) {
    std::string out = literal_term(text);
    out += '@';
    out += tag;
    return out;
}

LiteralParts literal_of(std::string_view term) {
    LiteralParts parts;
    const std::size_t end = literal_end(term);
    const std::string_view inside = term.substr(1, end >= 2 ? end - 2 : 0);
    for (std::size_t i = 0; i < inside.size(); ++i) {
        if (inside[i] != '\\' || i + 1 == inside.size()) {
            parts.text += inside[i];
            continue;
        }
        ++i;
        if (inside[i] == 'n') {
            parts.text += '\n';
        } else if (inside[i] == 'r') {
            parts.text += '\r';
        } else if (inside[i] == 'u' && i + 4 < inside.size()) {
            parts.text += static_cast<char>(std::stoi(std::string(inside.substr(i + 1, 4)), nullptr, 16));
            i += 4;
        } else {
            parts.text += inside[i];
        }
    }
    const std::string_view rest = term.substr(end);
    if (!rest.empty() && rest.front() == '@') parts.tag = rest.substr(1);
    if (rest.size() > 4 && rest.front() == '^') parts.datatype = rest.substr(3, rest.size() - 4);
    return parts;
}

bool is_language_tag(std::string_view tag) {
    bool first = true;
    std::size_t length = 0;
    for (const char sign : tag) {
        if (sign == '-') {
            if (length == 0) return false;
            first = false;
            length = 0;
        } else if (is_letter(sign) || (!first && is_digit(sign))) {
            ++length;
        } else {
            return false;
        }
    }
    return length != 0;
}

bool is_absolute_iri(std::string_view iri) {
    std::size_t scheme = 0;
    while (scheme < iri.size() && (is_letter(iri[scheme]) || (scheme > 0 && (is_digit(iri[scheme]) || iri[scheme] == '+' ||
                                                                              iri[scheme] == '-' || iri[scheme] == '.'))))
        ++scheme;
    if (scheme == 0 || scheme == iri.size() || iri[scheme] != ':') return false;
    return std::none_of(iri.begin(), iri.end(), [](char sign) {
        return static_cast<unsigned char>(sign) <= 0x20 || std::string_view("<>\"{}|^`\\").find(sign) != std::string_view::npos;
    });
}

std::string nquads_line(const Quad& quad) {
    std::string line;
    line.reserve(quad.subject.size() + quad.predicate.size() + quad.object.size() + quad.graph.size() + 6);
    line += quad.subject;
    line += ' ';
    line += quad.predicate;
    line += ' ';
    line += quad.object;
    if (!quad.graph.empty()) {
        line += ' ';
        line += quad.graph;
    }
    line += " .\n";
    return line;
}

std::string last_segment(std::string_view iri) {
    while (!iri.empty() && (iri.back() == '/' || iri.back() == '#')) iri.remove_suffix(1);
    const std::size_t cut = iri.find_last_of("/#:");
    std::string decoded = csvw::percent_decoded(cut == std::string_view::npos ? iri : iri.substr(cut + 1));
    return is_valid_utf8(decoded) ? decoded : std::string(cut == std::string_view::npos ? iri : iri.substr(cut + 1));
}

}  // namespace saggar::rdf
