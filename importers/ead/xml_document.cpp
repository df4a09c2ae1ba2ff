#include "importers/ead/xml_document.h"

#include <fmt/format.h>

#include <cstring>

namespace saggar {
namespace {

constexpr std::size_t most_xml_bytes = 128u << 20;

// The node after `node` in the order of the text, below `top`; `depth` goes with it. Null at the end.
pugi::xml_node next_in_text(pugi::xml_node node, pugi::xml_node top, int& depth) {
    if (const pugi::xml_node child = node.first_child()) {
        ++depth;
        return child;
    }
    while (node != top) {
        if (const pugi::xml_node next = node.next_sibling()) return next;
        node = node.parent();
        --depth;
    }
    return {};
}

void append_squeezed(std::string& out, std::string_view text) {
    for (const char sign : text) {
        const bool blank = sign == ' ' || sign == '\t' || sign == '\n' || sign == '\r';
        if (!blank) {
            out += sign;
        } else if (!out.empty() && out.back() != ' ') {
            out += ' ';
        }
    }
}

}  // namespace

bool XmlDocument::refuse(TextInput& input, std::string id, std::size_t at, std::string message, std::string next) {
    at = std::min(at, text_.size());
    const std::size_t end = std::min(text_.find_first_of("\n>", at), std::min(at + 60, text_.size()));
    input.problems().add({std::move(id), Severity::error, lines_->place(at, end), std::move(message), std::move(next)});
    return false;
}

bool XmlDocument::read(TextInput& input) {
    text_ = input.rest();
    lines_ = std::make_unique<TextLines>(input.name(), text_);
    if (input.problems().any_error() && text_.empty()) return false;
    if (text_.size() > most_xml_bytes)
        return refuse(input, "xml-long", 0, fmt::format("the file is longer than {} bytes", most_xml_bytes),
                      "split it");
    if (const std::size_t at = text_.find("<!ENTITY"); at != std::string::npos) {
        return refuse(input, "xml-entity", at, "the file declares entities, which are not read",
                      "write the text itself in their place");
    }
    buffer_ = text_;
    const auto result = document_.load_buffer_inplace(
        buffer_.data(), buffer_.size(), pugi::parse_default | pugi::parse_ws_pcdata_single, pugi::encoding_utf8);
    if (!result) {
        return refuse(input, "xml-unsound", static_cast<std::size_t>(result.offset),
                      fmt::format("this is no sound XML: {}", result.description()),
                      "mend the file; any XML editor shows the place");
    }
    return check(input);
}

bool XmlDocument::check(TextInput& input) {
    int depth = 0;
    for (pugi::xml_node node = root(); node; node = next_in_text(node, root(), depth)) {
        if (depth <= most_depth) continue;
        return refuse(input, "xml-deep", static_cast<std::size_t>(std::max<std::ptrdiff_t>(node.offset_debug(), 0)),
                      fmt::format("elements are nested more than {} deep", most_depth),
                      "a finding aid has no need of that; see that the file is whole");
    }
    return true;
}

Place XmlDocument::place(pugi::xml_node node) const {
    const auto at = static_cast<std::size_t>(std::max<std::ptrdiff_t>(node.offset_debug(), 0));
    return lines_->place(at, at + std::strlen(node.name()));
}

std::uint32_t XmlDocument::line(pugi::xml_node node) const {
    return lines_->line_of(static_cast<std::size_t>(std::max<std::ptrdiff_t>(node.offset_debug(), 0)));
}

std::string_view local_name(pugi::xml_node node) {
    const std::string_view name = node.name();
    const std::size_t colon = name.find(':');
    return colon == std::string_view::npos ? name : name.substr(colon + 1);
}

pugi::xml_node child_named(pugi::xml_node node, std::string_view name) {
    for (pugi::xml_node child = node.first_child(); child; child = child.next_sibling())
        if (child.type() == pugi::node_element && local_name(child) == name) return child;
    return {};
}

std::string text_below(pugi::xml_node top) {
    std::string out;
    int depth = 0;
    for (pugi::xml_node node = top; node; node = next_in_text(node, top, depth)) {
        if (node.type() == pugi::node_pcdata || node.type() == pugi::node_cdata) {
            append_squeezed(out, node.value());
        } else if (node.type() == pugi::node_element && node != top) {
            const std::string_view name = local_name(node);
            if (name == "part" || name == "p" || name == "lb" || name == "addressline") append_squeezed(out, " ");
        }
    }
    while (!out.empty() && out.back() == ' ') out.pop_back();
    return out;
}

}  // namespace saggar
