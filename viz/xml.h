// Writes XML: tags are ours, every text and attribute value is escaped. One writer for SVG and for the pages of a
// dossier.
//
// Values are cleaned first (text/clean.h), so whatever bytes come in, the output is well-formed XML 1.0. Not
// thread-safe.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace saggar::viz {

// "&" "<" ">" "\"" "'" as entities; the text is cleaned to one line.
std::string xml_escaped(std::string_view text);

// Shortest decimal with at most two places: 12, 12.5, -0.25.
std::string number(double value);

class XmlWriter {
public:
    // Opens an element on a line of its own. `tag` and attribute names are literals of this program, never user text.
    XmlWriter& open(std::string_view tag);
    XmlWriter& attribute(std::string_view name, std::string_view value);
    XmlWriter& attribute(std::string_view name, double value);
    XmlWriter& text(std::string_view text);
    // Closes the innermost open element.
    XmlWriter& close();
    // Text that is markup already, made by another XmlWriter.
    XmlWriter& markup(std::string_view xml);

    // An element with nothing but text in it.
    XmlWriter& leaf(std::string_view tag, std::string_view text);

    // Everything written; closes what is open.
    std::string finish();

private:
    void end_start_tag();
    void indent();

    std::string out_;
    std::vector<std::string> open_;
    bool in_start_tag_ = false;
    bool last_was_text_ = false;
};

}  // namespace saggar::viz
