#include "importers/rdf/own_node.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <set>

#include "importers/rdf/own_names.h"
#include "kg/model/json_tree.h"
#include "kg/model/json_write.h"
#include "kg/model/record_json_words.h"

namespace saggar::rdf {
namespace {

constexpr std::size_t most_values = 100'000;  // of one node

struct Typed {
    std::string_view type;
    std::string_view word;
};
constexpr Typed own_types[] = {{"Thing", "entity"},   {"Source", "source"},     {"Claim", "claim"},   {"Evidence", "evidence"},
                               {"List", "list"},       {"Argument", "argument"}, {"Ruling", "ruling"}, {"Withdrawal", "withdrawal"},
                               {"Entry", "entry"},     {"Document", "document"}};

// The names of a record's fields.
struct FieldNames {
    std::set<std::string, std::less<>> names;
    template <class T>
    void operator()(std::string_view name, const T&, Need) {
        names.emplace(name);
    }
    template <class R>
    void own_id(const R&) {}
};

template <class R>
std::set<std::string, std::less<>> names_of() {
    const R record{};
    FieldNames visitor;
    each_field(record, visitor);
    return visitor.names;
}

const std::set<std::string, std::less<>>& fields_of(std::string_view word) {
    static const std::map<std::string, std::set<std::string, std::less<>>, std::less<>> all = {
        {"entity", names_of<Entity>()},       {"source", names_of<Source>()},     {"claim", names_of<Claim>()},
        {"evidence", names_of<Evidence>()},   {"list", names_of<Listing>()},      {"argument", names_of<Argument>()},
        {"ruling", names_of<Ruling>()},       {"withdrawal", names_of<Withdrawal>()},
        {"entry", names_of<EntryHeader>()},   {"document", names_of<DocumentLine>()}};
    return all.find(word)->second;
}

// The text of any term: of a literal its words, of one of our IRIs what it names.
std::string text_of(std::string_view term) {
    if (is_literal(term)) return literal_of(term).text;
    const auto own = own_name_of(term);
    return own ? own->name : is_iri(term) ? std::string(iri_of(term)) : std::string(term);
}

bool is_number_field(std::string_view field) {
    for (const std::string_view one :
         {"reliability", "dependence", "tolerance", "completeness", "strength", "mention", "number", "chance", "fidelity"}) {
        if (field == one) return true;
    }
    return false;
}

}  // namespace

std::optional<OwnName> own_name_of(std::string_view term) {
    if (!is_iri(term) || iri_of(term).substr(0, own_space.size()) != own_space) return std::nullopt;
    std::string_view rest = iri_of(term).substr(own_space.size());
    const auto take = [&rest](int parts) {
        std::size_t end = 0;
        for (int i = 0; i < parts && end != std::string_view::npos; ++i) end = rest.find(':', end == 0 ? 0 : end + 1);
        const std::string_view taken = rest.substr(0, end);
        rest.remove_prefix(std::min(rest.size(), taken.size() + 1));
        return std::string(taken);
    };
    OwnName own;
    own.space = take(1);
    const bool two = own.space == "thing" || own.space == "citation" || own.space == "document" || own.space == "withdrawal";
    own.name = take(two ? 2 : 1);
    own.node = own.space + ':' + own.name;
    if (rest.substr(0, 8) == "version:") own.node += ':' + take(2);
    own.part = std::string(rest);
    if (own.name.empty()) return std::nullopt;
    return own;
}

// The members of one record as JSON.
class OwnJson {
public:
    OwnJson(const OwnNode& node, std::string_view word, Problems& problems) : node_(node), word_(word), problems_(problems) {}

    std::optional<std::string> line(const OwnName& name) {
        gather("");
        if (word_ == "claim") gather("proposition");
        for (const std::string_view content : {"claim", "evidence", "list", "argument", "ruling"}) {
            if (word_ == content) members_["id"] = json_string(name.name);
        }
        lists();
        if (!good_) return std::nullopt;
        std::string out = fmt::format("{{\"{}\":{{", word_);
        for (const auto& [member, text] : members_) {
            if (out.back() != '{') out += ',';
            out += json_string(member) + ':' + text;
        }
        return out + "}}";
    }

private:
    void gather(std::string_view part) {
        const auto found = node_.parts_.find(part);
        if (found == node_.parts_.end()) return;
        const auto& fields = fields_of(word_);
        for (const auto& said : found->second) {
            const std::string field = field_of_predicate(word_, said.predicate);
            if (!fields.count(field) || is_list(field)) continue;
            std::string json = json_of(field, said.object);
            if (field == "premises" || field == "looked_at") {
                ids_[field].insert(std::move(json));
                continue;
            }
            const auto [earlier, fresh] = members_.emplace(field, json);
            if (fresh || earlier->second == json) continue;
            good_ = false;
            problems_.add({"rdf-two-values", Severity::error, Place{"", said.spot.line, said.spot.column, "", 0},
                           fmt::format("the {} has two values of \"{}\"", word_, field), "leave one of them"});
        }
        for (const auto& [field, ids] : ids_) {
            std::string& list = members_[field];
            list = "[";
            for (const std::string& id : ids) list += (list.size() > 1 ? "," : "") + id;
            list += ']';
        }
    }

    static bool is_list(std::string_view field) {
        return field == "also" || field == "identifiers" || field == "copied_from" || field == "more";
    }

    std::string first(std::string_view part, std::string_view predicate) const {
        const auto found = node_.parts_.find(part);
        if (found == node_.parts_.end()) return {};
        for (const auto& said : found->second) {
            if (said.predicate == predicate) return said.object;
        }
        return {};
    }

    std::string name_json(std::string_view part, std::string_view term) const {
        std::string language;
        if (is_literal(term)) language = literal_of(term).tag;
        const std::string beside = first(part, own_term("term", "language"));
        if (language.empty() && !beside.empty()) language = text_of(beside);
        std::string out = "{";
        if (!language.empty()) out += "\"language\":" + json_string(language) + ',';
        return out + "\"text\":" + json_string(text_of(term)) + '}';
    }

    static std::string number_json(const std::string& text) {
        double number = 0;
        return read_json_number(text, number) ? text : json_string(text);
    }

    std::string object_json(std::string_view term) const {
        if (!is_literal(term)) return "{\"entity\":" + json_string(text_of(term)) + '}';
        const LiteralParts parts = literal_of(term);
        if (parts.datatype == edtf_datatype) return "{\"date\":" + json_string(parts.text) + '}';
        if (parts.datatype == xsd("decimal") || parts.datatype == xsd("double") || parts.datatype == xsd("integer")) {
            std::string unit = first("proposition", own_term("term", "unit"));
            if (!unit.empty()) unit = ",\"unit\":" + json_string(text_of(unit));
            return "{\"number\":" + json_string(parts.text) + unit + '}';
        }
        return "{\"text\":" + json_string(parts.text) + '}';
    }

    std::string json_of(std::string_view field, const std::string& term) const {
        if (field == "object") return object_json(term);
        if (field == "label") return name_json("", term);
        if (field == "private") return text_of(term) == "true" ? "true" : "false";
        if (is_number_field(field)) return number_json(text_of(term));
        return json_string(text_of(term));
    }

    // The lists, whose elements are parts of their own: "name:1", "copying:2".
    void lists() {
        std::map<std::string, std::map<std::uint64_t, std::string>> elements;
        for (const auto& [part, said] : node_.parts_) {
            const std::size_t colon = part.find(':');
            if (colon == std::string::npos) continue;
            const std::string kind = part.substr(0, colon);
            std::uint64_t place = 0;
            const char* const end = part.data() + part.size();
            if (std::from_chars(part.data() + colon + 1, end, place).ptr != end) continue;
            const std::string content = first(part, term_of("crm:P190_has_symbolic_content"));
            if (kind == "name" && word_ == "entity" && !content.empty()) {
                elements["also"][place] = name_json(part, content);
            } else if (kind == "identifier" && word_ == "entity" && !content.empty()) {
                elements["identifiers"][place] = json_string(text_of(content));
            } else if (kind == "copying" && word_ == "source") {
                elements["copied_from"][place] = copy_json(part);
            } else if (kind == "field" && word_ == "source") {
                elements["more"][place] = json_string(text_of(first(part, own_term("term", "name")))) + ':' +
                                          json_string(text_of(first(part, own_term("term", "text"))));
            }
        }
        for (const auto& [field, list] : elements) {
            const bool pairs = field == "more";
            std::string out = pairs ? "{" : "[";
            for (const auto& [place, json] : list) out += (out.size() > 1 ? "," : "") + json;
            members_[field] = out + (pairs ? '}' : ']');
        }
    }

    std::string copy_json(std::string_view part) const {
        std::string out = "{\"of\":" + json_string(text_of(first(part, term_of("prov:entity"))));
        for (const std::string_view field : {"chance", "fidelity"}) {
            const std::string term = first(part, own_term("term", field));
            if (!term.empty()) out += fmt::format(",\"{}\":{}", field, number_json(text_of(term)));
        }
        return out + '}';
    }

    const OwnNode& node_;
    std::string word_;
    Problems& problems_;
    bool good_ = true;
    std::map<std::string, std::string> members_;
    std::map<std::string, std::set<std::string>> ids_;
};

void OwnNode::clear() {
    parts_.clear();
    spot_ = {0, 0};
}

void OwnNode::add(std::string_view part, std::string_view predicate, std::string_view object, const Spot& spot) {
    if (spot_.line == 0 || spot.line < spot_.line) spot_ = spot;
    std::vector<Said>& said = parts_[std::string(part)];
    if (said.size() >= most_values || parts_.size() >= most_values) return;
    said.push_back({std::string(predicate), std::string(object), spot});
}

std::optional<std::uint64_t> OwnNode::number(std::string_view field) const {
    const auto found = parts_.find("");
    if (found == parts_.end()) return std::nullopt;
    for (const Said& said : found->second) {
        if (said.predicate != own_term("term", field)) continue;
        const std::string text = text_of(said.object);
        std::uint64_t value = 0;
        if (std::from_chars(text.data(), text.data() + text.size(), value).ptr == text.data() + text.size()) return value;
    }
    return std::nullopt;
}

std::optional<std::string> OwnNode::json_line(const OwnName& name, Problems& problems) const {
    const auto found = parts_.find("");
    if (found == parts_.end()) return std::nullopt;
    for (const Said& said : found->second) {
        if (said.predicate != term_of("rdf:type")) continue;
        const auto type = own_name(said.object, "term");
        for (const Typed& typed : own_types) {
            if (type == typed.type) return OwnJson(*this, typed.word, problems).line(name);
        }
    }
    return std::nullopt;
}

}  // namespace saggar::rdf
