// Text of a citation: words, some of them in italics.
//
// Kept apart from any output format; a note is put together once and then written as plain text, Markdown or HTML.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace saggar {

class CitedText {
public:
    struct Run {
        std::string text;
        bool italic = false;
        bool operator==(const Run&) const = default;
    };

    CitedText() = default;
    explicit CitedText(std::string_view plain) { add(plain); }

    CitedText& add(std::string_view plain);
    CitedText& add_italic(std::string_view text);
    CitedText& add(const CitedText& other);
    // Puts `separator` before what comes next, unless nothing stands yet. A comma or a full stop goes inside a closing
    // double quotation mark, as American and trade usage have it (Chicago Manual of Style, 17th ed., 6.9).
    CitedText& separate(std::string_view separator);
    // Ends with a full stop, unless one stands there already.
    CitedText& stop();

    bool empty() const { return runs_.empty(); }
    const std::vector<Run>& runs() const { return runs_; }
    bool operator==(const CitedText&) const = default;

private:
    void append(std::string_view text, bool italic);

    std::vector<Run> runs_;
};

std::string to_plain(const CitedText& text);
std::string to_markdown(const CitedText& text);  // *italics*; signs that mean something in CommonMark are escaped
std::string to_html(const CitedText& text);      // <i>…</i>, everything else escaped

// "“" + text + "”"; a pair of straight or curly double quotes already round it is not doubled. Blanks
// at its ends go.
std::string in_quotation_marks(std::string_view text);

// The text with signs that mean something in CommonMark escaped.
std::string markdown_escaped(std::string_view text);

}  // namespace saggar
