#include "queries/draft_locator.h"

#include <algorithm>
#include <iterator>
#include <vector>

namespace saggar {

namespace {

// Label as written, as printed in a note; pages are printed as the kind of source wants it. Terms of the CSL 1.0.2
// specification, appendix II, with their English short forms.
struct Label {
    std::string_view written, printed;
};
constexpr std::string_view kPage = "page=";
constexpr Label kLabels[] = {
    {"p.", kPage},          {"pp.", kPage},         {"page", kPage},        {"pages", kPage},     {"chap.", "chap."},
    {"chaps.", "chaps."},   {"chapter", "chap."},   {"chapters", "chaps."}, {"sec.", "sec."},     {"secs.", "secs."},
    {"section", "sec."},    {"sections", "secs."},  {"\u00A7", "\u00A7"},   {"\u00A7\u00A7", "\u00A7\u00A7"},
    {"vol.", "vol."},       {"vols.", "vols."},     {"volume", "vol."},     {"volumes", "vols."}, {"no.", "no."},
    {"nos.", "nos."},       {"number", "no."},      {"fol.", "fol."},       {"fols.", "fols."},   {"folio", "fol."},
    {"folios", "fols."},    {"fig.", "fig."},       {"figs.", "figs."},     {"figure", "fig."},   {"figures", "figs."},
    {"para.", "para."},     {"paras.", "paras."},   {"paragraph", "para."}, {"paragraphs", "paras."}, {"col.", "col."},
    {"cols.", "cols."},     {"column", "col."},     {"columns", "cols."},   {"pt.", "pt."},       {"pts.", "pts."},
    {"part", "pt."},        {"parts", "pts."},      {"bk.", "bk."},         {"bks.", "bks."},     {"book", "bk."},
    {"books", "bks."},      {"n.", "n."},           {"nn.", "nn."},         {"note", "n."},       {"notes", "nn."},
};

bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; }
bool is_locator_digit(char c) { return c >= '0' && c <= '9'; }

std::size_t skip_blanks(std::string_view text, std::size_t at) {
    while (at < text.size() && is_blank(text[at])) ++at;
    return at;
}

bool is_roman(std::string_view word) {
    return !word.empty() && word.find_first_not_of("ivxlcdmIVXLCDM") == std::string_view::npos;
}

// A number of a place: has a digit ("4v", "12-14", "A3") or is Roman.
bool is_number(std::string_view word) {
    return is_roman(word) || (std::any_of(word.begin(), word.end(), is_locator_digit) &&
                              word.find_first_of("()[]:=@\"") == std::string_view::npos);
}

// The word at `at`: up to a blank, a comma or a semicolon.
std::string_view word_at(std::string_view text, std::size_t at) {
    const auto end = text.find_first_of(" \t\r\n,;", at);
    return text.substr(at, end == std::string_view::npos ? end : end - at);
}

// Numbers with commas between them from `at` on: "33-35, 38"; gives where they end.
std::size_t numbers_end(std::string_view text, std::size_t at) {
    std::size_t end = at;
    for (std::size_t next = at; next < text.size();) {
        auto word = word_at(text, next);
        while (!word.empty() && (word.back() == '.' || word.back() == '-')) word.remove_suffix(1);
        if (!is_number(word)) break;
        end = next + word.size();
        const std::size_t comma = skip_blanks(text, end);
        if (comma >= text.size() || text[comma] != ',') break;
        next = skip_blanks(text, comma + 1);
    }
    return end;
}

std::string squeezed(std::string_view text) {
    std::string out;
    for (const char c : text) {
        if (!is_blank(c)) out += c;
    }
    return out;
}

std::string with_dashes(std::string_view numbers) {
    std::string out;
    for (const char c : numbers) {
        if (c == '-') {
            if (!out.ends_with("\u2013")) out += "\u2013";
        } else {
            out += c;
        }
    }
    return out;
}

std::string place_of(std::string_view label, std::string_view numbers) {
    if (label == kPage) return std::string(kPage) + squeezed(numbers);
    return std::string(label) + " " + with_dashes(numbers);
}

// A label and its numbers at `at`; `end` is set behind them.
std::string labelled(std::string_view text, std::size_t at, std::size_t& end) {
    const Label* found = nullptr;
    for (const auto& label : kLabels) {
        const bool longer = found == nullptr || label.written.size() > found->written.size();
        if (longer && text.substr(at).starts_with(label.written)) found = &label;
    }
    if (found == nullptr) return {};
    const std::size_t numbers = skip_blanks(text, at + found->written.size());
    const bool apart = numbers > at + found->written.size() || found->written.back() == '.' ||
                       found->written.front() == '\xC2';
    end = numbers_end(text, numbers);
    if (!apart || end == numbers) return {};
    return place_of(found->printed, text.substr(numbers, end - numbers));
}

std::string in_braces(std::string_view inside) {
    std::size_t end = 0;
    const auto place = labelled(inside, skip_blanks(inside, 0), end);
    if (!place.empty() && skip_blanks(inside, end) == inside.size()) return place;
    const auto first = skip_blanks(inside, 0);
    auto last = inside.size();
    while (last > first && is_blank(inside[last - 1])) --last;
    const auto words = inside.substr(first, last - first);
    if (!words.empty() && numbers_end(words, 0) == words.size()) return place_of(kPage, words);
    return std::string(words);
}

}  // namespace

DraftLocator read_draft_locator(std::string_view rest) {
    std::size_t at = skip_blanks(rest, 0);
    const bool comma = at < rest.size() && rest[at] == ',';
    if (comma) at = skip_blanks(rest, at + 1);
    DraftLocator found;
    std::size_t end = 0;
    if (at < rest.size() && rest[at] == '{') {
        const auto close = rest.find('}', at);
        if (close != std::string_view::npos) {
            found.at = in_braces(rest.substr(at + 1, close - at - 1));
            end = close + 1;
        }
    } else if (at < rest.size()) {
        found.at = labelled(rest, at, end);
        const auto place = rest.substr(at, rest.find_first_of(" \t\r\n", at) - at);
        if (found.at.empty() && (place.starts_with("page=") || place.starts_with("t=") || place.starts_with("xywh="))) {
            found.at = std::string(place);
            end = at + place.size();
        } else if (found.at.empty() && numbers_end(rest, at) > at && (comma || is_locator_digit(rest[at]))) {
            end = numbers_end(rest, at);
            found.at = place_of(kPage, rest.substr(at, end - at));
        }
    }
    auto suffix = rest.substr(end);
    while (!suffix.empty() && is_blank(suffix.back())) suffix.remove_suffix(1);
    found.suffix = std::string(suffix);
    std::replace(found.suffix.begin(), found.suffix.end(), '\n', ' ');
    return found;
}

}  // namespace saggar
