#include "kg/model/vocabulary.h"

#include <fmt/format.h>

#include <algorithm>

#include "embedded/tableware_vocabulary.h"
#include "kg/model/fault.h"
#include "kg/model/nearest.h"

namespace saggar {

namespace {

bool contains_sorted(const std::vector<std::string>& names, std::string_view name) {
    return std::binary_search(names.begin(), names.end(), name,
                              [](std::string_view a, std::string_view b) { return a < b; });
}

// "a, b or c"
std::string in_words(const std::vector<std::string>& names) {
    std::string out;
    for (std::size_t i = 0; i < names.size(); ++i) {
        if (i) out += i + 1 == names.size() ? " or " : ", ";
        out += names[i];
    }
    return out;
}

}  // namespace

bool Relation::takes_subject(std::string_view kind) const { return any_from || contains_sorted(from, kind); }
bool Relation::takes_object(std::string_view kind) const { return any_to || contains_sorted(to, kind); }

bool Relation::takes_value(Value::Type type) const {
    switch (type) {
        case Value::Type::entity: return any_to || !to.empty();
        case Value::Type::text: return to_text;
        case Value::Type::number: return to_number;
        case Value::Type::date: return to_date;
    }
    return false;
}

std::string Relation::subjects_in_words() const { return any_from ? "any kind" : in_words(from); }

std::string Relation::objects_in_words() const {
    std::vector<std::string> names = to;
    if (any_to) names.push_back("any kind");
    if (to_date) names.push_back("date");
    if (to_number) names.push_back("number");
    if (to_text) names.push_back("text");
    return in_words(names);
}

const Vocabulary& Vocabulary::standard() {
    static const Vocabulary vocabulary = [] {
        Problems problems;
        std::optional<Vocabulary> read = parse(embedded::tableware_vocabulary, problems, "tableware.json");
        if (!read) throw Fault("the built-in vocabulary is broken: " + to_text(problems.list().front()), "rebuild saggar");
        return std::move(*read);
    }();
    return vocabulary;
}

const Kind* Vocabulary::find_kind(std::string_view name) const {
    const auto found = kind_by_name_.find(name);
    return found == kind_by_name_.end() ? nullptr : &kinds_[found->second];
}

std::optional<RelationUse> Vocabulary::find_use(std::string_view name) const {
    const auto found = use_by_name_.find(name);
    if (found == use_by_name_.end()) return std::nullopt;
    return found->second;
}

const Relation* Vocabulary::find_relation(std::string_view name) const {
    const std::optional<RelationUse> use = find_use(name);
    return use && !use->inverse ? &relations_[use->relation] : nullptr;
}

std::optional<std::string> Vocabulary::nearest_kind(std::string_view name) const {
    std::vector<std::string> names;
    for (const Kind& kind : kinds_) names.push_back(kind.name);
    return nearest_word(name, names);
}

std::optional<std::string> Vocabulary::nearest_relation(std::string_view name) const {
    std::vector<std::string> names;
    for (const Relation& relation : relations_) {
        names.push_back(relation.name);
        if (!relation.inverse.empty()) names.push_back(relation.inverse);
    }
    return nearest_word(name, names);
}

std::string Vocabulary::suggestion(const std::optional<std::string>& nearest) {
    return nearest ? fmt::format(" (did you mean \"{}\"?)", *nearest) : std::string();
}

void Vocabulary::index() {
    std::sort(kinds_.begin(), kinds_.end(), [](const Kind& a, const Kind& b) { return a.name < b.name; });
    std::sort(relations_.begin(), relations_.end(), [](const Relation& a, const Relation& b) { return a.name < b.name; });
    for (std::uint32_t i = 0; i < kinds_.size(); ++i) kind_by_name_[kinds_[i].name] = i;
    for (RelationIndex i = 0; i < relations_.size(); ++i) {
        use_by_name_[relations_[i].name] = RelationUse{i, false};
        if (!relations_[i].inverse.empty()) use_by_name_[relations_[i].inverse] = RelationUse{i, true};
    }
}

}  // namespace saggar
