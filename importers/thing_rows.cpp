#include "importers/thing_rows.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

#include "importers/words.h"
#include "kg/model/key.h"

namespace saggar {
namespace {

constexpr std::string_view entity_column_names[] = {"key", "kind", "label", "also", "remark", "image", "private"};
static_assert(std::size(entity_column_names) == EntityRows::column_count);

constexpr std::string_view source_column_names[] = {"key",    "title",       "type",        "grade",      "reliability",
                                                    "family", "family_kind", "copied_from", "dependence", "tolerance",
                                                    "issued", "author",      "archive",     "place",      "collection",
                                                    "box",    "folder",      "rights",      "url",        "private"};
static_assert(std::size(source_column_names) == SourceRows::column_count);

bool wrong_field(const Origin& origin, Problems& problems, std::string_view field, std::string id, std::string message,
                 std::string next) {
    problems.add({std::move(id), Severity::error, origin.place_of(field), std::move(message), std::move(next)});
    return false;
}

// A letter, then letters, digits and hyphens: enough to tell a tag from text that holds an "@".
bool is_language_tag(std::string_view text) {
    return !text.empty() && text.size() <= 35 && text.front() != '-' &&
           std::all_of(text.begin(), text.end(), [](char c) {
               return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-';
           });
}

// "(chance .7)" or "(fidelity .95)", any number of them.
bool read_copy_chances(std::string_view text, Copy& copy) {
    while (!(text = trim(text)).empty()) {
        const std::size_t close = text.find(')');
        if (text.front() != '(' || close == std::string_view::npos) return false;
        const std::string_view inside = trim(text.substr(1, close - 1));
        const std::size_t blank = inside.find(' ');
        if (blank == std::string_view::npos) return false;
        const auto number = decimal(trim(inside.substr(blank)));
        double* const field = inside.substr(0, blank) == "chance"     ? &copy.chance
                              : inside.substr(0, blank) == "fidelity" ? &copy.fidelity
                                                                      : nullptr;
        if (!field || !number) return false;
        *field = *number;
        text.remove_prefix(close + 1);
    }
    return true;
}

bool read_copies(std::string_view text, Source& source, const Origin& origin, Problems& problems) {
    for (const std::string_view part : split_list(text, ";")) {
        const std::size_t end = std::min(part.find_first_of(" ("), part.size());
        auto key = read_source_key(part.substr(0, end), "copied_from", origin, problems);
        if (!key) return false;
        Copy copy;
        copy.of = std::move(*key);
        if (!read_copy_chances(part.substr(end), copy)) {
            return wrong_field(origin, problems, "copied_from", "copy-invalid",
                               fmt::format("\"{}\" cannot be read", trim(part.substr(end))),
                               "write for example: source:notice (chance .7) (fidelity .95)");
        }
        source.copied_from.push_back(std::move(copy));
    }
    return true;
}

template <class Number>
bool read_number_field(std::string_view text, std::string_view column, std::optional<Number>& field,
                       const Origin& origin, Problems& problems) {
    const auto number = decimal(text);
    const bool whole = number && *number == static_cast<double>(static_cast<Number>(*number));
    if (number && (whole || std::is_floating_point_v<Number>)) {
        field = static_cast<Number>(*number);
        return true;
    }
    return wrong_field(
        origin, problems, column, "number-invalid",
        fmt::format("\"{}\" is not a {}", text, std::is_floating_point_v<Number> ? "number" : "whole number"),
        std::is_floating_point_v<Number> ? "write a number from 0 to 1, for example 0.8"
                                         : "write years, for example 5");
}

struct PlainField {
    std::string_view column;
    std::string Source::*field;
};

constexpr PlainField plain_source_fields[] = {{"title", &Source::title},
                                              {"type", &Source::type},
                                              {"grade", &Source::grade},
                                              {"family", &Source::family},
                                              {"family_kind", &Source::family_kind},
                                              {"author", &Source::author},
                                              {"archive", &Source::archive},
                                              {"place", &Source::place},
                                              {"collection", &Source::collection},
                                              {"box", &Source::box},
                                              {"folder", &Source::folder},
                                              {"rights", &Source::rights},
                                              {"url", &Source::url}};

}  // namespace

std::span<const std::string_view> EntityRows::column_names() {
    return entity_column_names;
}
std::span<const std::string_view> SourceRows::column_names() {
    return source_column_names;
}

std::vector<Name> read_other_names(std::string_view text) {
    std::vector<Name> names;
    for (const std::string_view part : split_list(text, ";")) {
        Name name;
        const std::size_t at = part.rfind('@');
        if (at != std::string_view::npos && at > 0 && is_language_tag(part.substr(at + 1))) {
            name.text = trim(part.substr(0, at));
            name.language = part.substr(at + 1);
        } else {
            name.text = part;
        }
        names.push_back(std::move(name));
    }
    return names;
}

EntityRows::EntityRows(Sink& sink, Problems& problems)
    : sink_(sink), problems_(problems), columns_(entity_column_names) {}

bool EntityRows::header(const CellRow& row) {
    static constexpr std::size_t needed[] = {key};
    const bool known = columns_.read_header(row, "entities", problems_);
    return columns_.require(row, needed, "entities", problems_) && known;
}

void EntityRows::row(const CellRow& row) {
    if (NamedColumns::is_blank(row) || !columns_.fits(row, problems_)) return;
    const RowOrigin origin(row, columns_);
    Entity entity;
    const std::string_view word = trim(columns_.text(row, key));
    const std::string_view of_kind = trim(columns_.text(row, kind));
    const auto parts = split_key(word);
    entity.key = parts || of_kind.empty() ? std::string(word) : fmt::format("{}:{}", of_kind, word);
    if (!is_key(entity.key)) {
        const std::string slug =
            slugify(word.substr(word.find(':') == std::string_view::npos ? 0 : word.find(':') + 1));
        wrong_field(origin, problems_, "key", "key-invalid",
                    word.empty() ? std::string("the key is missing") : fmt::format("\"{}\" is not a key", entity.key),
                    fmt::format("write kind:name, for example {}:{}", of_kind.empty() ? "shape" : of_kind,
                                slug.empty() ? "lantern" : slug));
        return;
    }
    if (parts && !of_kind.empty() && parts->kind != of_kind) {
        wrong_field(origin, problems_, "kind", "kind-differs",
                    fmt::format("the key says \"{}\", the column kind says \"{}\"", parts->kind, of_kind),
                    "make the two agree, or leave the kind empty");
        return;
    }
    const auto yes = read_yes(columns_.text(row, private_), "private", origin, problems_);
    if (!yes) return;
    entity.label.text = columns_.text(row, label);
    entity.also = read_other_names(columns_.text(row, also));
    entity.remark = columns_.text(row, remark);
    entity.image = trim(columns_.text(row, image));
    entity.is_private = *yes;
    sink_.put(std::move(entity), origin);
}

bool is_source_column(std::string_view column) {
    return column != "key" && std::find(std::begin(source_column_names), std::end(source_column_names), column) !=
                                  std::end(source_column_names);
}

bool set_source_field(Source& source, std::string_view column, std::string_view text, const Origin& origin,
                      Problems& problems) {
    text = trim(text);
    for (const PlainField& plain : plain_source_fields) {
        if (plain.column != column) continue;
        source.*plain.field = text;
        return true;
    }
    if (text.empty()) return true;
    if (column == "reliability") return read_number_field(text, column, source.reliability, origin, problems);
    if (column == "dependence") return read_number_field(text, column, source.dependence, origin, problems);
    if (column == "tolerance") return read_number_field(text, column, source.tolerance_years, origin, problems);
    if (column == "copied_from") return read_copies(text, source, origin, problems);
    if (column == "issued") {
        auto date = date_of_words(text, "", column, origin, problems);
        if (date) source.issued = std::move(*date);
        return date.has_value();
    }
    return false;
}

void settle_more(Source& source) {
    std::stable_sort(source.more.begin(), source.more.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    std::vector<std::pair<std::string, std::string>> settled;
    for (auto& field : source.more) {
        if (!settled.empty() && settled.back().first == field.first) {
            settled.back().second += "; " + field.second;
        } else {
            settled.push_back(std::move(field));
        }
    }
    source.more = std::move(settled);
}

SourceRows::SourceRows(Sink& sink, Problems& problems)
    : sink_(sink), problems_(problems), columns_(source_column_names) {}

bool SourceRows::header(const CellRow& row) {
    static constexpr std::size_t needed[] = {key};
    const bool known = columns_.read_header(row, "sources", problems_);
    return columns_.require(row, needed, "sources", problems_) && known;
}

void SourceRows::row(const CellRow& row) {
    if (NamedColumns::is_blank(row) || !columns_.fits(row, problems_)) return;
    const RowOrigin origin(row, columns_);
    const std::string_view word = trim(columns_.text(row, key));
    if (word.empty()) {
        wrong_field(origin, problems_, "key", "key-invalid", "the key is missing",
                    "write kind:name, for example source:journal-1948");
        return;
    }
    auto source_key = read_source_key(word, "key", origin, problems_);
    const auto yes = read_yes(columns_.text(row, private_), "private", origin, problems_);
    Source source;
    bool good = source_key && yes;
    for (std::size_t column = title; column < private_; ++column) {
        good = set_source_field(source, source_column_names[column], columns_.text(row, column), origin, problems_) &&
               good;
    }
    if (!good) return;
    source.key = std::move(*source_key);
    source.is_private = *yes;
    sink_.put(std::move(source), origin);
}

}  // namespace saggar
