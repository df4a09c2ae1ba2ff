#include "importers/claim_words.h"

#include <fmt/format.h>

#include <algorithm>

#include "importers/words.h"
#include "kg/model/key.h"
#include "kg/time/written.h"

namespace saggar {
namespace {

std::nullopt_t refuse(Problems& problems, Place place, std::string id, std::string message, std::string next) {
    problems.add({std::move(id), Severity::error, std::move(place), std::move(message), std::move(next)});
    return std::nullopt;
}

// The part of a field's place that holds bytes [offset, offset + length) of its text.
Place part_of(Place place, std::string_view text, std::size_t offset, std::size_t length) {
    if (place.column == 0 || place.length < code_points(text)) return place;
    const std::size_t start = place.text.find(text);
    if (start == std::string::npos) return place;
    const auto column = place.text_from + static_cast<std::uint32_t>(code_points(place.text.substr(0, start)));
    if (column < place.column || column > place.column + 1) return place;  // the same text elsewhere on the line
    place.column = column + static_cast<std::uint32_t>(code_points(text.substr(0, offset)));
    place.length = static_cast<std::uint32_t>(code_points(text.substr(offset, length)));
    return place;
}

// "1.2 l": digits, then perhaps a unit. The number stays as it is written.
std::optional<Value> number_of_words(std::string_view text) {
    std::size_t end = text.find_first_not_of("+-.0123456789");
    end = std::min(end, text.size());
    const std::string_view digits = text.substr(0, end);
    const std::string_view unit = trim(text.substr(end));
    if (!decimal(digits) || unit.size() > 40 || unit.find_first_of("0123456789,;") == 0) return std::nullopt;
    return Value{Value::Type::number, std::string(digits.front() == '+' ? digits.substr(1) : digits),
                 std::string(unit)};
}

// `kinds`: what may stand here, for the suggestion.
std::optional<std::string> key_of_words(std::string_view text, std::string_view field,
                                        const std::vector<std::string>& kinds, const Origin& origin,
                                        Problems& problems) {
    if (is_key(text)) return std::string(text);
    const std::string slug = slugify(text.substr(text.find(':') == std::string_view::npos ? 0 : text.find(':') + 1));
    return refuse(
        problems, origin.place_of(field), "key-invalid",
        text.empty() ? fmt::format("the {} is missing", field) : fmt::format("the {} \"{}\" is not a key", field, text),
        fmt::format("write kind:name, for example {}{}",
                    text.find(':') == std::string_view::npos
                        ? (kinds.empty() ? std::string("line") : kinds.front()) + ':'
                        : std::string(text.substr(0, text.find(':') + 1)),
                    slug.empty() ? "lantern" : slug));
}

// Dates that spreadsheets and conversions are known to make of others. They are kept as they stand.
void warn_of_odd_date(const std::string& edtf, std::string_view field, const Origin& origin, Problems& problems) {
    if (edtf.size() >= 4 && edtf[0] == '0') {
        problems.add({"date-early-year", Severity::warning, origin.place_of(field),
                      fmt::format("\"{}\" is a date before the year 1000", edtf),
                      "see whether a digit of the year was changed"});
    }
    // The last days of December before the Gregorian calendar: where 1 January was moved by the days between the calendars.
    if (edtf.size() == 10 && edtf[0] == '1' && edtf.compare(4, 4, "-12-") == 0 && edtf.substr(0, 4) < "1582" &&
        edtf.substr(8) >= "20") {
        problems.add(
            {"date-moved", Severity::warning, origin.place_of(field),
             fmt::format("\"{}\" may be the 1 January of the next year, moved by a program that converted calendars",
                         edtf),
             "see what the source says"});
    }
}

}  // namespace

std::optional<std::string> date_of_words(std::string_view text, std::string_view relation, std::string_view field,
                                         const Origin& origin, Problems& problems) {
    text = trim(text);
    const auto read = time::read_edtf_or_written(text);
    if (!read) {
        return refuse(problems, part_of(origin.place_of(field), text, read.error.offset, read.error.length),
                      read.error.id, read.error.reason, read.error.next_step);
    }
    if (read->size() == 1) {
        warn_of_odd_date(read->front().edtf, field, origin, problems);
        const std::string& label = read->front().label;
        if (!label.empty() && field == "object" && relation.substr(0, label.size()) != label) {
            problems.add({"date-label", Severity::warning, origin.place_of(field),
                          fmt::format("\"{}\" says when it was {}; it is taken as \"{}\"", text, label, relation),
                          "use the relation that fits it; in CSVW metadata saggar:phases gives one for each such word"});
        }
        return read->front().edtf;
    }
    for (const time::WrittenDate& date : *read) {
        if (!date.label.empty() && relation.substr(0, date.label.size()) == date.label) return date.edtf;
    }
    return refuse(problems, origin.place_of(field), "date-several",
                  fmt::format("\"{}\" holds {} dates, and one is wanted", text, read->size()),
                  "write one row for each, with the relation that fits it; in CSVW metadata saggar:phases gives one for each");
}

std::optional<Value> value_of_words(std::string_view text, const Relation& relation, const Origin& origin,
                                    Problems& problems) {
    const std::string_view trimmed = trim(text);
    if (trimmed.empty()) {
        return refuse(problems, origin.place_of("object"), "object-missing", "the object is missing",
                      fmt::format("\"{}\" takes {}", relation.name, relation.objects_in_words()));
    }
    if (relation.takes_value(Value::Type::entity)) {
        const auto parts = split_key(trimmed);
        const bool no_value = !relation.to_text && !relation.to_number && !relation.to_date;
        if (parts && (no_value || relation.takes_object(parts->kind))) {
            return Value{Value::Type::entity, std::string(trimmed), ""};
        }
        if (no_value) {
            auto key = key_of_words(trimmed, "object", relation.to, origin, problems);
            if (!key) return std::nullopt;
            return Value{Value::Type::entity, std::move(*key), ""};
        }
    }
    if (relation.to_date) {
        Problems unread(0);
        auto date = date_of_words(trimmed, relation.name, "object", origin, relation.to_text ? unread : problems);
        if (date) return Value{Value::Type::date, std::move(*date), ""};
        if (!relation.to_text) return std::nullopt;
    }
    if (relation.to_number) {
        if (auto number = number_of_words(trimmed)) return number;
        if (!relation.to_text) {
            return refuse(problems, origin.place_of("object"), "number-invalid",
                          fmt::format("\"{}\" is not a number with a unit", trimmed),
                          "write digits with a decimal point, then the unit: 1.2 l");
        }
    }
    return Value{Value::Type::text, std::string(trimmed), ""};
}

std::optional<Claim> claim_of_words(const ClaimWords& words, const Vocabulary& vocabulary, const Origin& origin,
                                    Problems& problems) {
    const std::string_view name = trim(words.relation);
    const auto use = vocabulary.find_use(name);
    if (!use) {
        return refuse(problems, origin.place_of("relation"), "relation-unknown",
                      name.empty() ? std::string("the relation is missing")
                                   : fmt::format("unknown relation \"{}\"{}", name,
                                                 Vocabulary::suggestion(vocabulary.nearest_relation(name))),
                      fmt::format("use a relation of the vocabulary \"{}\"", vocabulary.name()));
    }
    const Relation& relation = vocabulary.relation(use->relation);
    auto subject =
        key_of_words(trim(words.subject), "subject", use->inverse ? relation.to : relation.from, origin, problems);
    Claim claim;
    claim.relation = relation.name;
    std::optional<Value> object;
    if (use->inverse) {
        auto key = key_of_words(trim(words.object), "object", relation.from, origin, problems);
        if (key) object = Value{Value::Type::entity, std::move(*key), ""};
    } else {
        object = value_of_words(words.object, relation, origin, problems);
    }
    bool good = subject && object;
    if (const std::string_view scope = trim(words.scope); !scope.empty()) {
        auto key = key_of_words(scope, "scope", {}, origin, problems);
        good = good && key;
        if (key) claim.scope = std::move(*key);
    }
    if (!trim(words.when).empty()) {
        auto when = date_of_words(words.when, relation.name, "when", origin, problems);
        good = good && when;
        if (when) claim.when = std::move(*when);
    }
    if (!good) return std::nullopt;
    claim.subject = std::move(*subject);
    claim.object = std::move(*object);
    const bool turned = use->inverse || (relation.symmetric && claim.object.type == Value::Type::entity &&
                                         claim.object.text < claim.subject);
    if (turned) std::swap(claim.subject, claim.object.text);
    return claim;
}

std::optional<Claim> claim_of_sentence(std::string_view sentence, const Vocabulary& vocabulary, const Origin& origin,
                                       Problems& problems) {
    ClaimWords words;
    std::string_view* const fields[] = {&words.subject, &words.relation};
    std::string_view rest = trim(sentence);
    for (std::string_view* field : fields) {
        const std::size_t blank = std::min(rest.find(' '), rest.size());
        *field = rest.substr(0, blank);
        rest = trim(rest.substr(blank));
    }
    words.object = rest;
    if (rest.empty()) {
        return refuse(problems, origin.place_of(""), "claim-incomplete",
                      fmt::format("\"{}\" is not a claim", trim(sentence)),
                      "write subject relation object, for example: line:northern built-on shape:lantern");
    }
    return claim_of_words(words, vocabulary, origin, problems);
}

}  // namespace saggar
