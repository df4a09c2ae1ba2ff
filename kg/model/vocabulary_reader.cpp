// Reads a vocabulary document. Each function mirrors one part of the grammar at the top of vocabulary.h; every problem
// names the JSON Pointer of what is wrong, points at it, and says what to do.
#include <fmt/format.h>

#include <algorithm>
#include <initializer_list>
#include <map>
#include <nlohmann/json.hpp>

#include "kg/model/json_document.h"
#include "kg/model/key.h"
#include "kg/model/nearest.h"
#include "kg/model/vocabulary.h"

namespace saggar {

namespace {

using nlohmann::json;

bool is_vocabulary_name(std::string_view name) {
    if (name.empty() || name.size() > 60 || name.front() < 'a' || name.front() > 'z') return false;
    return std::all_of(name.begin(), name.end(),
                       [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-'; });
}

bool is_value_type(std::string_view name) { return name == "date" || name == "text" || name == "number"; }

}  // namespace

class VocabularyReader {
public:
    VocabularyReader(const JsonDocument& document, Problems& problems) : document_(document), problems_(problems) {}

    std::optional<Vocabulary> read(std::string_view text) {
        const std::size_t errors_before = problems_.errors();
        const json& root = document_.root();
        if (!is(root, json::value_t::object, "", "an object")) return std::nullopt;
        only_fields(root, "", {"vocabulary", "version", "language", "remark", "kinds", "relations", "headings", "time", "rules"});
        vocabulary_.document_ = std::string(text);
        vocabulary_.name_ = required_text(root, "", "vocabulary");
        vocabulary_.version_ = required_text(root, "", "version");
        vocabulary_.language_ = optional_text(root, "", "language");
        read_kinds(root);
        read_relations(root);
        check_headings(root);
        keep_raw(root, "time", json::value_t::object, "an object", vocabulary_.time_);
        keep_raw(root, "rules", json::value_t::array, "an array", vocabulary_.rules_);
        if (problems_.errors() != errors_before) return std::nullopt;
        vocabulary_.index();
        return std::move(vocabulary_);
    }

private:
    void add(const char* id, Place place, const std::string& pointer, const std::string& message, std::string next) {
        Problem problem;
        problem.id = id;
        problem.place = std::move(place);
        problem.message = fmt::format("{}: {}", pointer.empty() ? "the document" : pointer, message);
        problem.next_step = std::move(next);
        problems_.add(std::move(problem));
    }
    void at_value(const char* id, const std::string& pointer, const std::string& message, std::string next) {
        add(id, document_.place_of_value(pointer), pointer, message, std::move(next));
    }
    void at_key(const char* id, const std::string& pointer, const std::string& message, std::string next) {
        add(id, document_.place_of_key(pointer), pointer, message, std::move(next));
    }

    bool is(const json& value, json::value_t type, const std::string& pointer, const char* wanted) {
        if (value.type() == type) return true;
        at_value("vocabulary-wrong-type", pointer, fmt::format("expected {}, found {}", wanted, value.type_name()),
                 fmt::format("write {} here", wanted));
        return false;
    }
    void only_fields(const json& object, const std::string& pointer, std::initializer_list<const char*> allowed) {
        const std::vector<std::string> names(allowed.begin(), allowed.end());
        for (const auto& item : object.items()) {
            if (std::find(names.begin(), names.end(), item.key()) != names.end()) continue;
            at_key("vocabulary-unknown-field", JsonDocument::child(pointer, item.key()),
                   fmt::format("unknown field \"{}\"{}", item.key(),
                               Vocabulary::suggestion(nearest_word(item.key(), names))),
                   fmt::format("use one of: {}", fmt::join(names, ", ")));
        }
    }
    std::string optional_text(const json& object, const std::string& pointer, const char* field) {
        const auto found = object.find(field);
        if (found == object.end()) return {};
        if (!is(*found, json::value_t::string, JsonDocument::child(pointer, field), "a text")) return {};
        return found->get<std::string>();
    }
    std::string required_text(const json& object, const std::string& pointer, const char* field) {
        const std::size_t errors_before = problems_.errors();
        std::string text = optional_text(object, pointer, field);
        if (text.empty() && problems_.errors() == errors_before) {
            at_value("vocabulary-missing-field", pointer, fmt::format("\"{}\" is missing or empty", field),
                     fmt::format("add \"{}\": \"…\"", field));
        }
        return text;
    }
    bool optional_flag(const json& object, const std::string& pointer, const char* field) {
        const auto found = object.find(field);
        if (found == object.end()) return false;
        return is(*found, json::value_t::boolean, JsonDocument::child(pointer, field), "true or false") &&
               found->get<bool>();
    }
    void keep_raw(const json& root, const char* field, json::value_t type, const char* wanted, std::string& text) {
        const auto found = root.find(field);
        if (found != root.end() && is(*found, type, JsonDocument::child("", field), wanted)) text = found->dump();
    }
    // The members of a required object field, or null with a problem.
    const json* required_object(const json& root, const char* field) {
        const auto found = root.find(field);
        if (found == root.end()) {
            at_value("vocabulary-missing-field", "", fmt::format("\"{}\" is missing", field),
                     fmt::format("add \"{}\": {{…}}", field));
            return nullptr;
        }
        return is(*found, json::value_t::object, JsonDocument::child("", field), "an object") ? &*found : nullptr;
    }
    bool good_name(const std::string& name, const std::string& pointer, const char* what) {
        if (is_vocabulary_name(name)) return true;
        at_key("vocabulary-bad-name", pointer, fmt::format("\"{}\" cannot be the name of a {}", name, what),
               "use a-z, 0-9 and '-', a letter first, at most 60 letters");
        return false;
    }

    void read_kinds(const json& root) {
        const json* const kinds = required_object(root, "kinds");
        if (!kinds) return;
        for (const auto& item : kinds->items()) {
            const std::string pointer = JsonDocument::child("/kinds", item.key());
            if (!good_name(item.key(), pointer, "kind")) continue;
            if (is_value_type(item.key())) {
                at_key("vocabulary-bad-name", pointer, fmt::format("\"{}\" is a type of values", item.key()),
                       "choose another name for this kind");
                continue;
            }
            if (is_reserved_kind(item.key())) {
                at_key("vocabulary-bad-name", pointer, fmt::format("\"{}\" is kept for records", item.key()),
                       "choose another name for this kind");
                continue;
            }
            if (!is(item.value(), json::value_t::object, pointer, "an object")) continue;
            only_fields(item.value(), pointer, {"label", "plural", "class", "remark"});
            Kind kind;
            kind.name = item.key();
            kind.label = required_text(item.value(), pointer, "label");
            kind.plural = optional_text(item.value(), pointer, "plural");
            kind.category = optional_text(item.value(), pointer, "class");
            kind.remark = optional_text(item.value(), pointer, "remark");
            if (kind.plural.empty()) kind.plural = kind.label;
            kind_names_.push_back(kind.name);
            vocabulary_.kinds_.push_back(std::move(kind));
        }
    }

    void read_relations(const json& root) {
        const json* const relations = required_object(root, "relations");
        if (!relations) return;
        for (const auto& item : relations->items()) {
            const std::string pointer = JsonDocument::child("/relations", item.key());
            if (good_name(item.key(), pointer, "relation") &&
                is(item.value(), json::value_t::object, pointer, "an object")) {
                read_relation(item.key(), item.value(), pointer);
            }
        }
        check_inverse_names();
    }

    void read_relation(const std::string& name, const json& value, const std::string& pointer) {
        only_fields(value, pointer, {"from", "to", "inverse", "inverse-label", "at-most-one", "symmetric", "identity",
                                     "label", "property", "remark"});
        Relation relation;
        relation.name = name;
        for (const std::string& kind : read_list(value, pointer, "from", false)) {
            kind == "*" ? void(relation.any_from = true) : relation.from.push_back(kind);
        }
        for (const std::string& kind : read_list(value, pointer, "to", true)) {
            if (kind == "*") relation.any_to = true;
            else if (kind == "text") relation.to_text = true;
            else if (kind == "number") relation.to_number = true;
            else if (kind == "date") relation.to_date = true;
            else relation.to.push_back(kind);
        }
        if (relation.any_from) relation.from.clear();
        if (relation.any_to) relation.to.clear();
        std::sort(relation.from.begin(), relation.from.end());
        std::sort(relation.to.begin(), relation.to.end());
        relation.inverse = optional_text(value, pointer, "inverse");
        relation.inverse_label = optional_text(value, pointer, "inverse-label");
        relation.at_most_one = optional_flag(value, pointer, "at-most-one");
        relation.symmetric = optional_flag(value, pointer, "symmetric");
        relation.identity = optional_flag(value, pointer, "identity");
        relation.label = required_text(value, pointer, "label");
        relation.property = optional_text(value, pointer, "property");
        relation.remark = optional_text(value, pointer, "remark");
        check_relation(relation, pointer);
        vocabulary_.relations_.push_back(std::move(relation));
    }

    // The names in "from" or "to", those that are known.
    std::vector<std::string> read_list(const json& relation, const std::string& pointer, const char* field, bool values) {
        std::vector<std::string> out;
        const std::string list_pointer = JsonDocument::child(pointer, field);
        const auto found = relation.find(field);
        if (found == relation.end() || (found->is_array() && found->empty())) {
            at_value("vocabulary-missing-field", pointer, fmt::format("\"{}\" is missing or empty", field),
                     fmt::format("add \"{}\": [\"…\"] with the kinds, or \"*\" for any", field));
            return out;
        }
        if (!is(*found, json::value_t::array, list_pointer, "an array of names")) return out;
        for (std::size_t i = 0; i < found->size(); ++i) {
            const std::string at = JsonDocument::child(list_pointer, std::to_string(i));
            if (!is((*found)[i], json::value_t::string, at, "a text")) continue;
            const std::string name = (*found)[i].get<std::string>();
            const bool known = name == "*" || (values && is_value_type(name)) ||
                               std::find(kind_names_.begin(), kind_names_.end(), name) != kind_names_.end();
            if (!known) {
                at_value("vocabulary-unknown-kind", at,
                         fmt::format("\"{}\" is not a kind of this vocabulary{}", name,
                                     Vocabulary::suggestion(nearest_word(name, kind_names_))),
                         "add it under \"kinds\", or mend the name");
            } else if (std::find(out.begin(), out.end(), name) != out.end()) {
                at_value("vocabulary-repeated-kind", at, fmt::format("\"{}\" stands twice in this list", name),
                         "keep one of the two");
            } else {
                out.push_back(name);
            }
        }
        return out;
    }

    void check_relation(const Relation& relation, const std::string& pointer) {
        const bool any_value = relation.to_text || relation.to_number || relation.to_date;
        const bool any_entity = relation.any_to || !relation.to.empty();
        const std::string inverse_pointer = JsonDocument::child(pointer, "inverse");
        if (relation.symmetric && any_value) {
            at_key("vocabulary-symmetric-value", pointer, "a symmetric relation cannot lead to a value",
                   "leave date, text and number out of \"to\"");
        }
        if (relation.symmetric && !relation.inverse.empty()) {
            at_value("vocabulary-inverse-clash", inverse_pointer, "a symmetric relation is its own inverse",
                     "leave \"inverse\" out");
        }
        if (!relation.inverse.empty() && !any_entity) {
            at_value("vocabulary-inverse-of-value", inverse_pointer, "nothing can be read backwards from a value",
                     "leave \"inverse\" out, or add a kind to \"to\"");
        }
        if (!relation.inverse.empty() && !is_vocabulary_name(relation.inverse)) {
            at_value("vocabulary-bad-name", inverse_pointer,
                     fmt::format("\"{}\" cannot be the name of a relation", relation.inverse),
                     "use a-z, 0-9 and '-', a letter first, at most 60 letters");
        }
        if (relation.identity && !relation.symmetric) {
            at_key("vocabulary-identity-one-way", pointer, "an identity holds both ways", "add \"symmetric\": true");
        }
    }

    void check_inverse_names() {
        std::map<std::string, std::string> taken;  // name -> the relation that has it
        for (const Relation& relation : vocabulary_.relations_) taken[relation.name] = relation.name;
        for (const Relation& relation : vocabulary_.relations_) {
            if (relation.inverse.empty()) continue;
            const auto placed = taken.emplace(relation.inverse, relation.name);
            if (placed.second) continue;
            at_value("vocabulary-inverse-clash",
                     JsonDocument::child(JsonDocument::child("/relations", relation.name), "inverse"),
                     fmt::format("the name \"{}\" is already taken by \"{}\"", relation.inverse, placed.first->second),
                     "give this inverse a name of its own");
        }
    }

    // Words over columns of people's tables, by what they mean; kept in the document for whoever suggests metadata.
    void check_headings(const json& root) {
        const auto part = root.find("headings");
        if (part == root.end() || !is(*part, json::value_t::object, "/headings", "an object")) return;
        for (const auto& item : part->items()) {
            const std::string pointer = JsonDocument::child("/headings", item.key());
            if (!names_something(item.key())) {
                Problem problem;
                problem.id = "vocabulary-unknown-heading";
                problem.severity = Severity::warning;
                problem.place = document_.place_of_key(pointer);
                problem.message = fmt::format("{}: \"{}\" is no relation, kind or field; its words are passed over", pointer, item.key());
                problem.next_step = "name a relation, an inverse, a kind, or field:label, field:also, field:remark, field:image, field:identifier";
                problems_.add(std::move(problem));
            }
            if (!is(item.value(), json::value_t::array, pointer, "an array of words")) continue;
            for (std::size_t i = 0; i < item.value().size(); ++i)
                is(item.value()[i], json::value_t::string, JsonDocument::child(pointer, std::to_string(i)), "a text");
        }
    }
    bool names_something(const std::string& name) const {
        for (const char* const field : {"field:label", "field:also", "field:remark", "field:image", "field:identifier"})
            if (name == field) return true;
        return std::find(kind_names_.begin(), kind_names_.end(), name) != kind_names_.end() ||
               std::any_of(vocabulary_.relations_.begin(), vocabulary_.relations_.end(),
                           [&](const Relation& one) { return one.name == name || one.inverse == name; });
    }

    const JsonDocument& document_;
    Problems& problems_;
    Vocabulary vocabulary_;
    std::vector<std::string> kind_names_;
};

std::optional<Vocabulary> Vocabulary::parse(std::string_view text, Problems& problems, std::string_view file) {
    const std::optional<JsonDocument> document = JsonDocument::read(text, file, problems);
    if (!document) return std::nullopt;
    return VocabularyReader(*document, problems).read(text);
}

}  // namespace saggar
