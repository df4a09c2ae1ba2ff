#include "queries/cite_text.h"

#include "kg/model/markup.h"

namespace saggar {

namespace {

constexpr std::string_view kOpen = "\u201C", kClose = "\u201D", kInnerOpen = "\u2018", kInnerClose = "\u2019";

bool ends_sentence(std::string_view text) {
    for (const auto mark : {kClose, kInnerClose}) {
        if (text.ends_with(mark)) text.remove_suffix(mark.size());
    }
    return text.ends_with('.') || text.ends_with('?') || text.ends_with('!');
}

std::size_t count_of(std::string_view text, std::string_view mark) {
    std::size_t count = 0;
    for (auto at = text.find(mark); at != std::string_view::npos; at = text.find(mark, at + mark.size())) ++count;
    return count;
}

// Words in quotation marks inside a quotation get single ones (Chicago Manual of Style, 17th ed., 13.30, from memory). Only
// where the marks come in pairs; else they stay as they are.
std::string inner_quotes(std::string_view text) {
    const bool straight = count_of(text, "\"") % 2 == 0, curly = count_of(text, kOpen) == count_of(text, kClose);
    std::string out;
    bool open = false;
    while (!text.empty()) {
        if (straight && text.front() == '"') {
            out += open ? kInnerClose : kInnerOpen;
            open = !open;
            text.remove_prefix(1);
        } else if (curly && (text.starts_with(kOpen) || text.starts_with(kClose))) {
            out += text.starts_with(kOpen) ? kInnerOpen : kInnerClose;
            text.remove_prefix(kOpen.size());
        } else {
            out += text.front();
            text.remove_prefix(1);
        }
    }
    return out;
}

}  // namespace

void CitedText::append(std::string_view text, bool italic) {
    if (text.empty()) return;
    if (!runs_.empty() && runs_.back().italic == italic) {
        runs_.back().text += text;
    } else {
        runs_.push_back(Run{std::string(text), italic});
    }
}

CitedText& CitedText::add(std::string_view plain) {
    append(plain, false);
    return *this;
}

CitedText& CitedText::add_italic(std::string_view text) {
    append(text, true);
    return *this;
}

CitedText& CitedText::add(const CitedText& other) {
    for (const auto& run : other.runs_) append(run.text, run.italic);
    return *this;
}

CitedText& CitedText::separate(std::string_view separator) {
    if (runs_.empty() || separator.empty()) return *this;
    std::string& last = runs_.back().text;
    const char sign = separator.front();
    if (sign == '.' && ends_sentence(last)) return add(separator.substr(1));
    if ((sign == ',' || sign == '.') && last.ends_with(kClose)) {
        last.resize(last.size() - kClose.size());
        last += sign;
        last += kClose;
        return add(separator.substr(1));
    }
    return add(separator);
}

CitedText& CitedText::stop() { return separate("."); }

std::string to_plain(const CitedText& text) {
    std::string out;
    for (const auto& run : text.runs()) out += run.text;
    return out;
}

std::string markdown_escaped(std::string_view text) {
    static constexpr std::string_view kSpecial = "\\`*_{}[]<>#&|~^$@";
    std::string out;
    for (const char c : text) {
        if (kSpecial.find(c) != std::string_view::npos) out += '\\';
        out += c;
    }
    return out;
}

std::string to_markdown(const CitedText& text) {
    std::string out;
    for (const auto& run : text.runs())
        out += run.italic ? "*" + markdown_escaped(run.text) + "*" : markdown_escaped(run.text);
    return out;
}

std::string to_html(const CitedText& text) {
    std::string out;
    for (const auto& run : text.runs())
        out += run.italic ? "<i>" + escaped_markup(run.text) + "</i>" : escaped_markup(run.text);
    return out;
}

std::string in_quotation_marks(std::string_view text) {
    while (!text.empty() && (text.front() == ' ' || text.front() == '\n')) text.remove_prefix(1);
    while (!text.empty() && (text.back() == ' ' || text.back() == '\n')) text.remove_suffix(1);
    if (text.size() >= 2 && text.front() == '"' && text.back() == '"') text = text.substr(1, text.size() - 2);
    if (text.starts_with(kOpen) && text.ends_with(kClose) && text.size() >= kOpen.size() + kClose.size()) {
        text = text.substr(kOpen.size(), text.size() - kOpen.size() - kClose.size());
    }
    return std::string(kOpen) + inner_quotes(text) + std::string(kClose);
}

}  // namespace saggar
