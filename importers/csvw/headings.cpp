#include "importers/csvw/headings.h"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "importers/words.h"
#include "kg/model/key.h"

namespace saggar::csvw {
namespace {

constexpr std::size_t shortest_guessed_word = 6;
constexpr std::size_t most_kinds = 8;  // a relation to more kinds than that ("documents") is no guess for any of them

// "Pattern No. (printed)" -> "pattern no"; what stands in brackets goes to `brackets`.
std::string plain_words(std::string_view heading, std::string* brackets = nullptr) {
    std::string folded = fold(trim(heading));
    const std::size_t open = folded.find_first_of("([");
    const std::size_t close = open == std::string::npos ? open : folded.find_first_of(")]", open);
    if (close != std::string::npos && open != 0) {
        if (brackets) *brackets = std::string(trim(std::string_view(folded).substr(open + 1, close - open - 1)));
        folded.erase(open, close - open + 1);
    }
    std::string out;
    for (char c : folded) {
        if (c == '_' || c == '-' || c == '.' || c == ':' || c == '/' || c == '?' || c == '#' || c == '\'') c = ' ';
        if (c != ' ' || (!out.empty() && out.back() != ' ')) out += c;
    }
    while (!out.empty() && out.back() == ' ') out.pop_back();
    return out;
}

bool take_end(std::string& words, std::string_view end) {
    if (words.size() <= end.size() || words.compare(words.size() - end.size(), end.size(), end) != 0) return false;
    words.resize(words.size() - end.size());
    return true;
}

// The words as they are, without "name" or "id" at the end, and as one of several.
std::vector<std::string> forms_of(const std::string& words) {
    std::vector<std::string> forms{words};
    std::string shorter = words;
    if (take_end(shorter, " name") || take_end(shorter, " names") || take_end(shorter, " id") || take_end(shorter, " s"))
        forms.push_back(shorter);
    if (shorter.size() > 3 && shorter.back() == 's') {
        shorter.pop_back();
        forms.push_back(shorter);
    }
    return forms;
}

std::string with_hyphens(std::string words) {
    std::replace(words.begin(), words.end(), ' ', '-');
    return words;
}

}  // namespace

Headings::Headings(const Vocabulary& vocabulary) : vocabulary_(vocabulary) {
    read_words(vocabulary.document(), words_);
    if (vocabulary.document() != Vocabulary::standard().document()) read_words(Vocabulary::standard().document(), built_in_words_);
}

void Headings::read_words(const std::string& document, std::vector<Word>& words) {
    const auto root = nlohmann::ordered_json::parse(document);
    if (const auto part = root.find("headings"); part != root.end()) {
        for (const auto& item : part->items()) {
            const bool known = item.key().rfind("field:", 0) == 0 || vocabulary_.find_kind(item.key()) || vocabulary_.find_use(item.key());
            for (const auto& word : item.value()) {
                if (known) words.push_back({plain_words(word.get<std::string>()), item.key()});
            }
        }
    }
    for (const auto& item : root["relations"].items()) {
        if (to_.count(item.key()) == 0) to_[item.key()] = item.value()["to"].get<std::vector<std::string>>();
    }
}

bool Headings::is_role(std::string_view heading) {
    std::string words = plain_words(heading);
    take_end(words, " name");
    return words == "role" || words == "roles" || words == "function" || words == "capacity in which" || take_end(words, " role");
}

bool Headings::is_number_word(std::string_view heading) {
    std::string words = " " + plain_words(heading);
    return take_end(words, " id") || words == " id" || take_end(words, " no") || words == " no" || take_end(words, " number") ||
           take_end(words, " key") || words == " number" || words == " key";
}

std::optional<std::string> Headings::kind_of(std::string_view heading) const {
    std::string words = plain_words(heading);
    if (!take_end(words, " no") && !take_end(words, " number")) take_end(words, " key");
    for (const std::string& form : forms_of(words)) {
        for (const Kind& kind : vocabulary_.kinds()) {
            if (form == kind.name || form == plain_words(kind.label) || form == plain_words(kind.plural)) return kind.name;
        }
        for (const auto* const words_of : {&words_, &built_in_words_}) {
            for (const Word& word : *words_of)
                if (word.word == form && vocabulary_.find_kind(word.name)) return word.name;
        }
    }
    return std::nullopt;
}

bool Headings::can_be_said(std::string_view name, const std::string& kind) const {
    const auto use = vocabulary_.find_use(name);
    if (!use) return false;
    const Relation& relation = vocabulary_.relation(use->relation);
    return use->inverse ? relation.takes_object(kind) : relation.takes_subject(kind);
}

HeadingMeaning Headings::relation_meaning(const std::string& name, const std::string& words, std::string guessed) const {
    HeadingMeaning meaning;
    meaning.property = "relation:" + name;
    meaning.guessed = std::move(guessed);
    const RelationUse use = *vocabulary_.find_use(name);
    const Relation& relation = vocabulary_.relation(use.relation);
    meaning.to_value = !use.inverse && (relation.to_text || relation.to_date);
    meaning.to_date = !use.inverse && relation.to_date;
    if (meaning.to_value || (!use.inverse && relation.to_number)) return meaning;
    const auto known = to_.find(relation.name);
    std::vector<std::string> kinds = use.inverse || known == to_.end() ? relation.from : known->second;
    kinds.erase(std::remove_if(kinds.begin(), kinds.end(), [&](const std::string& kind) { return !vocabulary_.find_kind(kind); }), kinds.end());
    const auto named = kind_of(words);
    const bool fits = named && (std::find(kinds.begin(), kinds.end(), *named) != kinds.end());
    if (fits)
        meaning.object_kind = *named;
    else if (!kinds.empty())
        meaning.object_kind = kinds.front();
    return meaning;
}

std::string Headings::dated_by(std::string_view word, const std::string& kind) const {
    for (const Relation& relation : vocabulary_.relations()) {
        const bool starts = relation.name.compare(0, word.size(), word) == 0 && relation.name.size() > word.size() && relation.name[word.size()] == '-';
        if (starts && relation.to_date && relation.takes_subject(kind)) return relation.name;
    }
    const HeadingMeaning meaning = meaning_of(word, kind);
    return meaning.to_date ? meaning.property.substr(9) : std::string();
}

// Relations by which things of `kind` lead to things of the other, both kinds named by the relation.
std::vector<std::string> Headings::leading_to(const std::string& kind, const std::string& object_kind) const {
    std::vector<std::string> names;
    for (const Relation& relation : vocabulary_.relations()) {
        if (relation.any_from || relation.any_to || relation.to.size() > most_kinds || relation.from.size() > most_kinds) continue;
        if (relation.takes_subject(kind) && relation.takes_object(object_kind)) names.push_back(relation.name);
        if (!relation.inverse.empty() && relation.takes_object(kind) && relation.takes_subject(object_kind)) names.push_back(relation.inverse);
    }
    return names;
}

std::optional<HeadingMeaning> Headings::by_words(const std::vector<Word>& words, const std::string& heading, const std::string& kind,
                                                 std::string& said_of_others) const {
    for (const std::string& form : forms_of(heading)) {
        for (const Word& word : words) {
            if (word.word != form || vocabulary_.find_kind(word.name)) continue;
            if (word.name.rfind("field:", 0) == 0) {
                HeadingMeaning meaning;
                meaning.property = word.name;
                return meaning;
            }
            if (can_be_said(word.name, kind)) return relation_meaning(word.name, heading, fmt::format("by the word \"{}\"", form));
            if (said_of_others.empty()) said_of_others = word.name;
        }
    }
    return std::nullopt;
}

// By a word of a relation's name ("mark" of bears-mark), or by its start ("designer" for designed-by).
std::optional<HeadingMeaning> Headings::by_relation_name(const std::string& heading, const std::string& kind) const {
    for (const Relation& relation : vocabulary_.relations()) {
        const std::vector<std::string_view> parts = split_list(relation.name, "-");
        if (heading.size() > 2 && relation.takes_subject(kind) && std::find(parts.begin(), parts.end(), heading) != parts.end())
            return relation_meaning(relation.name, heading, fmt::format("by a word of {}", relation.name));
    }
    for (const Relation& relation : vocabulary_.relations()) {
        const std::string stem = relation.name.substr(0, relation.name.find('-'));
        if (stem.size() > 4 && heading.compare(0, stem.size() - 2, stem, 0, stem.size() - 2) == 0 && relation.takes_subject(kind))
            return relation_meaning(relation.name, heading, fmt::format("by the start of {}", relation.name));
    }
    return std::nullopt;
}

HeadingMeaning Headings::meaning_of(std::string_view heading, const std::string& kind) const {
    std::string brackets;
    const std::string words = plain_words(heading, &brackets);
    if (words.empty()) return {};
    const auto with_unit = [&](HeadingMeaning meaning) {
        const bool number = meaning.property.rfind("relation:", 0) == 0 && !meaning.to_value && meaning.object_kind.empty();
        if (number) meaning.unit = brackets;
        return meaning;
    };
    if (can_be_said(with_hyphens(words), kind)) return with_unit(relation_meaning(with_hyphens(words), words, ""));
    std::string said_of_others;
    auto found = by_words(words_, words, kind, said_of_others);
    if (!found) found = by_relation_name(words, kind);
    if (!found) found = by_words(built_in_words_, words, kind, said_of_others);
    if (found) return with_unit(std::move(*found));
    const auto object_kind = kind_of(words);
    const std::vector<std::string> names = object_kind ? leading_to(kind, *object_kind) : std::vector<std::string>();
    if (names.size() == 1) return relation_meaning(names.front(), words, fmt::format("the only relation of a {} to a {}", kind, *object_kind));
    HeadingMeaning unclear;
    if (object_kind && *object_kind == "source" && kind != "source")
        unclear.remark = "to cite it for what a row says: \"saggar:source\" of the table";
    else if (!names.empty())
        unclear.remark = fmt::format("could be {}", fmt::join(names, ", "));
    else if (!said_of_others.empty())
        unclear.remark = fmt::format("{} is said of: {}; not of: {}", said_of_others,
                                     vocabulary_.relation(vocabulary_.find_use(said_of_others)->relation).subjects_in_words(), kind);
    if (!unclear.remark.empty()) return unclear;
    const auto nearest = words.size() < shortest_guessed_word ? std::nullopt : vocabulary_.nearest_relation(with_hyphens(words));
    if (nearest && can_be_said(*nearest, kind)) return with_unit(relation_meaning(*nearest, words, fmt::format("as nearly {}", *nearest)));
    return {};
}

}  // namespace saggar::csvw
