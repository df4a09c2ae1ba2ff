#include "queries/cite_parts.h"

#include <algorithm>

#include "kg/model/key.h"
#include "queries/cite_csl.h"

namespace saggar::citing {

namespace {

bool holds_folded(std::string_view text, std::string_view part) {
    return !part.empty() && fold(text).find(fold(part)) != std::string::npos;
}

bool begins_with_letter(std::string_view text) {
    const char c = text.empty() ? '0' : text.front();
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

}  // namespace

bool read_ends(const Source& source, Ends& ends) {
    if (const auto recipient = csl_field(source, "recipient"); !recipient.empty() && !source.author.empty()) {
        ends = {names_for_note(read_names(source.author)), names_for_note(csl_names(recipient))};
        return true;
    }
    const auto at = source.title.find(" to ");
    if (at == std::string::npos || source.author.empty()) return false;
    const auto from = std::string_view(source.title).substr(0, at);
    const auto names = read_names(source.author);
    if (names.empty() || !holds_folded(from, names.front().family) || from.size() > 80) return false;
    auto to = std::string_view(source.title).substr(at + 4);
    to = to.substr(0, to.find(','));
    ends = {std::string(from), std::string(to)};
    return true;
}

bool title_names_author(const Source& source) {
    const auto names = read_names(source.author);
    return !names.empty() && holds_folded(source.title, names.front().natural());
}

std::string author_for_note(const Source& source) {
    return title_names_author(source) ? std::string() : names_for_note(read_names(source.author));
}

std::string title_or_kind(const Source& source) {
    if (!source.title.empty()) return source.title;
    const auto word = kind_in_note(cite_type(source));
    return std::string(word.empty() ? std::string_view(cite_type(source)) : word);
}

bool title_says_kind(const Source& source) {
    const auto word = kind_in_note(cite_type(source));
    if (word.empty() || source.title.empty()) return true;
    // "memorandum" is said by "memo", "photograph" by "photo": the first four letters are enough.
    return holds_folded(source.title, word.substr(0, std::min<std::size_t>(4, word.size())));
}

bool title_says_edition(const Source& source) {
    for (const auto* words : {"second edition", "third edition", "fourth edition", "fifth edition", "new edition",
                              "revised edition", "2nd ed", "3rd ed", "4th ed", "5th ed"}) {
        if (holds_folded(source.title, words)) return true;
    }
    return false;
}

std::string date_for_note(const Source& source, const CiteStyle& style) {
    return title_tells_date(source.title, source.issued) ? std::string() : date_in_words(source.issued, style.dates);
}

std::string numbered(std::string_view word, std::string_view number) {
    if (number.empty() || begins_with_letter(number)) return std::string(number);
    return std::string(word) + " " + std::string(number);
}

void add_keeping(CitedText& note, const Source& source) {
    add_part(note, numbered("box", source.box));
    add_part(note, numbered("folder", source.folder));
    add_part(note, csl_field(source, "archive_location"));
    add_part(note, csl_field(source, "call-number"));
    add_part(note, source.collection);
    add_part(note, source.archive);
    if (!holds_folded(source.archive, source.place)) add_part(note, source.place);
}

std::string address_of(const Source& source) {
    if (!source.url.empty()) return source.url;
    const auto doi = csl_field(source, "DOI");
    return doi.empty() ? std::string() : "https://doi.org/" + std::string(doi);
}

std::string capitalised(std::string_view text) {
    std::string out(text);
    if (!out.empty() && out[0] >= 'a' && out[0] <= 'z') out[0] = static_cast<char>(out[0] - 'a' + 'A');
    return out;
}

void add_part(CitedText& note, std::string_view part, std::string_view separator) {
    if (!part.empty()) note.separate(separator).add(part);
}

}  // namespace saggar::citing
