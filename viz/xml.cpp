#include "viz/xml.h"

#include <fmt/format.h>

#include <cmath>

#include "kg/model/markup.h"
#include "viz/text/clean.h"

namespace saggar::viz {

std::string xml_escaped(std::string_view text) { return escaped_markup(clean_line(text)); }

std::string number(double value) {
    std::string text = fmt::format("{:.2f}", std::abs(value) < 0.005 ? 0.0 : value);
    while (text.back() == '0') text.pop_back();
    if (text.back() == '.') text.pop_back();
    return text;
}

void XmlWriter::end_start_tag() {
    if (in_start_tag_) out_ += '>';
    in_start_tag_ = false;
}

void XmlWriter::indent() {
    if (!out_.empty()) out_ += '\n';
    out_.append(open_.size(), ' ');
}

XmlWriter& XmlWriter::open(std::string_view tag) {
    end_start_tag();
    indent();
    out_ += '<';
    out_ += tag;
    open_.emplace_back(tag);
    in_start_tag_ = true;
    last_was_text_ = false;
    return *this;
}

XmlWriter& XmlWriter::attribute(std::string_view name, std::string_view value) {
    out_ += ' ';
    out_ += name;
    out_ += "=\"";
    out_ += xml_escaped(value);
    out_ += '"';
    return *this;
}

XmlWriter& XmlWriter::attribute(std::string_view name, double value) { return attribute(name, number(value)); }

XmlWriter& XmlWriter::text(std::string_view text) {
    end_start_tag();
    out_ += xml_escaped(text);
    last_was_text_ = true;
    return *this;
}

XmlWriter& XmlWriter::markup(std::string_view xml) {
    end_start_tag();
    out_ += '\n';
    out_ += xml;
    last_was_text_ = false;
    return *this;
}

XmlWriter& XmlWriter::close() {
    const std::string tag = open_.back();
    open_.pop_back();
    if (in_start_tag_) {
        out_ += "/>";
        in_start_tag_ = false;
    } else {
        if (!last_was_text_) indent();
        out_ += "</" + tag + ">";
    }
    last_was_text_ = false;
    return *this;
}

XmlWriter& XmlWriter::leaf(std::string_view tag, std::string_view content) { return open(tag).text(content).close(); }

std::string XmlWriter::finish() {
    while (!open_.empty()) close();
    out_ += '\n';
    return std::move(out_);
}

}  // namespace saggar::viz
