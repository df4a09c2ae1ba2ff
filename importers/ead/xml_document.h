// XML read whole by pugixml, with the places of its elements and within limits.
//
// Declarations of entities are refused: nothing outside the file is ever read and nothing expands. Elements nested beyond
// `most_depth` are refused. Names are compared without their namespace prefix. Only importers/ead includes this.
#pragma once

#include <memory>
#include <pugixml.hpp>
#include <string>
#include <string_view>

#include "importers/text_input.h"
#include "kg/model/text_lines.h"

namespace saggar {

class XmlDocument {
public:
    static constexpr int most_depth = 64;

    // Takes the rest of the input. False where it is no sound XML or beyond a limit; a problem says where.
    bool read(TextInput& input);

    pugi::xml_node root() const { return document_.document_element(); }
    // The place of an element's start tag.
    Place place(pugi::xml_node node) const;
    std::uint32_t line(pugi::xml_node node) const;

private:
    bool check(TextInput& input);
    bool refuse(TextInput& input, std::string id, std::size_t at, std::string message, std::string next);

    std::string text_;    // as it was
    std::string buffer_;  // pugixml writes into it
    std::unique_ptr<TextLines> lines_;
    pugi::xml_document document_;
};

// "ead:did" -> "did".
std::string_view local_name(pugi::xml_node node);
// The first child element of this name; empty where there is none.
pugi::xml_node child_named(pugi::xml_node node, std::string_view name);
// All text below a node in order, blanks squeezed to one and trimmed. No recursion.
std::string text_below(pugi::xml_node node);

}  // namespace saggar
