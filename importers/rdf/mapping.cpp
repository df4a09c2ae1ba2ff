#include "importers/rdf/mapping.h"

#include <embedded/rdf_default_mapping.h>
#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "importers/rdf/own_names.h"
#include "importers/thing_rows.h"
#include "kg/model/key.h"
#include "kg/model/nearest.h"

namespace saggar::rdf {
namespace {

constexpr std::string_view entity_fields[] = {"label", "also", "remark", "image", "identifier"};
constexpr std::string_view evidence_fields[] = {"source", "at", "quote", "certainty", "recorded_by", "recorded_on", "stance"};
constexpr std::string_view part_names[] = {"mapping", "version", "remark", "prefixes", "types",   "kinds",    "keys",
                                           "fields",  "relations", "paths", "times",   "amounts", "statements", "evidence", "unmapped"};

template <class List>
bool one_of(const List& words, std::string_view word) {
    return std::find(std::begin(words), std::end(words), word) != std::end(words);
}

}  // namespace

class MappingReader {
public:
    MappingReader(std::string_view text, std::string_view file, const Vocabulary& vocabulary, bool lenient, Problems& problems)
        : lines_(file, text), vocabulary_(vocabulary), lenient_(lenient), problems_(problems) {}

    std::optional<Mapping> read() {
        if (!tree_.parse(lines_, problems_)) return std::nullopt;
        const JsonNode& root = tree_.root();
        if (!root.is(JsonNode::Type::object)) {
            wrong(root, "mapping-no-object", "a mapping is an object", "put its parts in { }");
            return std::nullopt;
        }
        each(root, [&](const JsonNode& part) {
            if (!one_of(part_names, part.key))
                wrong(part, "mapping-unknown-part", fmt::format("a mapping has no part \"{}\"", part.key),
                      "use kinds, keys, fields, relations, paths, times, amounts, statements, evidence, types, prefixes or unmapped");
        });
        for (const auto& [name, iri] : prefixes()) prefixes_[name] = iri;
        each_of(root, "prefixes", [&](const JsonNode& one) { prefixes_[std::string(one.key)] = text_of(one); });
        types();
        kinds();
        each_of(root, "fields", [&](const JsonNode& one) { field(one); });
        each_of(root, "relations", [&](const JsonNode& one) {
            const std::string term = term_of_name(one, one.key);
            auto relations = relations_of(one);
            if (!term.empty() && !relations.empty()) mapping_.uses_[term].relations = std::move(relations);
        });
        each_of(root, "paths", [&](const JsonNode& one) { path(one); });
        folds("times", {{"begin", Mapping::Fold::begin}, {"end", Mapping::Fold::end}, {"from", Mapping::Fold::from}, {"until", Mapping::Fold::until}});
        folds("amounts", {{"value", Mapping::Fold::value}, {"unit", Mapping::Fold::unit}});
        statements();
        evidence();
        const JsonNode* unmapped = tree_.member(root, "unmapped");
        if (unmapped && text_of(*unmapped) != "warn" && unmapped->text != "pass")
            wrong(*unmapped, "mapping-unmapped", fmt::format("\"{}\" is not what can be done", unmapped->text), "write warn or pass");
        mapping_.warns_ = !unmapped || unmapped->text != "pass";
        return good_ ? std::optional<Mapping>(std::move(mapping_)) : std::nullopt;
    }

private:
    template <class Visit>
    void each(const JsonNode& node, const Visit& visit) {
        for (const JsonNode* one = tree_.first(node); one; one = tree_.next(*one)) visit(*one);
    }
    // The members or elements of a part, which must be an object or, for paths, an array.
    template <class Visit>
    void each_of(const JsonNode& object, std::string_view name, const Visit& visit) {
        const JsonNode* part = tree_.member(object, name);
        if (!part) return;
        const JsonNode::Type wanted = name == "paths" ? JsonNode::Type::array : JsonNode::Type::object;
        if (!part->is(wanted))
            return wrong(*part, "mapping-wrong-type", fmt::format("\"{}\" is {}; {} is wanted", name, name_of(part->type), name_of(wanted)),
                         "change the value");
        each(*part, visit);
    }

    void wrong(const JsonNode& node, std::string id, std::string message, std::string next) {
        good_ = false;
        problems_.add({std::move(id), Severity::error, lines_.place(node.begin, std::min(node.end, node.begin + 200)),
                       std::move(message), std::move(next)});
    }

    std::string text_of(const JsonNode& node) {
        if (node.is(JsonNode::Type::string)) return std::string(node.text);
        wrong(node, "mapping-wrong-type", fmt::format("this is {}; a text is wanted", name_of(node.type)), "write it in quotes");
        return {};
    }

    // One text, or an array of them.
    std::vector<std::string> texts_of(const JsonNode& node) {
        std::vector<std::string> texts;
        if (node.is(JsonNode::Type::array)) {
            each(node, [&](const JsonNode& one) { texts.push_back(text_of(one)); });
        } else {
            texts.push_back(text_of(node));
        }
        return texts;
    }

    std::string full(const JsonNode& node, std::string_view name) {
        const std::size_t colon = name.find(':');
        const auto prefix = colon == std::string_view::npos ? prefixes_.end() : prefixes_.find(name.substr(0, colon));
        std::string iri = prefix == prefixes_.end() ? std::string(name) : prefix->second + std::string(name.substr(colon + 1));
        if (is_absolute_iri(iri) && (prefix != prefixes_.end() || iri.find("//") != std::string::npos || iri.substr(0, 4) == "urn:"))
            return iri;
        wrong(node, "mapping-no-iri", fmt::format("\"{}\" is no IRI, nor a name with a known prefix", name),
              "write the IRI in full, or add its prefix to \"prefixes\"");
        return {};
    }
    std::string term_of_name(const JsonNode& node, std::string_view name) {
        const std::string iri = full(node, name);
        return iri.empty() ? iri : iri_term(iri);
    }

    bool known_kind(const JsonNode& node, const std::string& kind) {
        if (vocabulary_.find_kind(kind)) return true;
        if (!lenient_)
            wrong(node, "kind-unknown",
                  fmt::format("the vocabulary has no kind \"{}\"{}", kind, Vocabulary::suggestion(vocabulary_.nearest_kind(kind))),
                  "use a kind of the vocabulary");
        return false;
    }

    void types() {
        mapping_.uses_[term_of("rdf:type")].type = true;
        if (const JsonNode* list = tree_.member(tree_.root(), "types")) {
            for (const std::string& name : texts_of(*list)) mapping_.uses_[term_of_name(*list, name)].type = true;
        }
    }

    void kinds() {
        std::size_t rank = 0;
        each_of(tree_.root(), "kinds", [&](const JsonNode& one) {
            const std::string kind = text_of(one);
            const std::string term = term_of_name(one, one.key);
            if (!term.empty() && (kind.empty() || known_kind(one, kind))) mapping_.kinds_[term] = {rank++, kind};
        });
        each_of(tree_.root(), "keys", [&](const JsonNode& one) {
            const std::string kind = text_of(one);
            const std::string start = full(one, one.key);
            if (!start.empty() && !kind.empty() && known_kind(one, kind)) mapping_.starts_.emplace_back(start, kind);
        });
        // The longest start first.
        std::sort(mapping_.starts_.begin(), mapping_.starts_.end(), [](const auto& a, const auto& b) {
            return a.first.size() != b.first.size() ? a.first.size() > b.first.size() : a < b;
        });
    }

    void field(const JsonNode& one) {
        const std::string name = text_of(one);
        const std::string term = term_of_name(one, one.key);
        if (name.empty() || term.empty()) return;
        if (!one_of(entity_fields, name) && (!is_source_column(name) || name == "key" || name == "private"))
            return wrong(one, "mapping-unknown-field", fmt::format("there is no field \"{}\"", name),
                         "use label, also, remark, image, identifier or a column of the sources table");
        mapping_.uses_[term].field = name;
    }

    std::vector<std::string> relations_of(const JsonNode& node) {
        std::vector<std::string> known;
        for (std::string& name : texts_of(node)) {
            if (vocabulary_.find_use(name)) {
                known.push_back(std::move(name));
            } else if (!lenient_) {
                wrong(node, "relation-unknown",
                      fmt::format("the vocabulary has no relation \"{}\"{}", name, Vocabulary::suggestion(vocabulary_.nearest_relation(name))),
                      "use a relation of the vocabulary, or its inverse name");
            }
        }
        return known;
    }

    void path(const JsonNode& one) {
        const JsonNode* steps = tree_.member(one, "steps");
        if (!steps || !steps->is(JsonNode::Type::array) || steps->count != 2)
            return wrong(one, "mapping-path", "a path has two steps", "give \"steps\" as an array of two properties");
        Mapping::Path path;
        const JsonNode* relation = tree_.member(one, "relation");
        const JsonNode* said = tree_.member(one, "evidence");
        if (relation) path.relations = relations_of(*relation);
        if (said) path.evidence = evidence_name(*said, text_of(*said));
        if (!relation && !said)
            return wrong(one, "mapping-path", "a path leads to nothing", "give it a \"relation\" or an \"evidence\"");
        if (path.relations.empty() && path.evidence.empty()) return;
        const auto index = static_cast<std::uint32_t>(mapping_.paths_.size());
        bool last = false;
        for (const std::string& step : texts_of(*steps)) {
            const bool backwards = !step.empty() && step.front() == '^';
            const std::string term = term_of_name(*steps, std::string_view(step).substr(backwards ? 1 : 0));
            if (term.empty()) return;
            mapping_.uses_[term].steps.push_back({index, last, backwards});
            last = true;
        }
        mapping_.paths_.push_back(std::move(path));
    }

    void folds(std::string_view part, const std::map<std::string_view, Mapping::Fold>& roles) {
        each_of(tree_.root(), part, [&](const JsonNode& one) {
            const auto role = roles.find(one.key);
            if (role == roles.end() && one.key != "of")
                return wrong(one, "mapping-unknown-part", fmt::format("\"{}\" has no \"{}\"", part, one.key), "see the head of FORMATS.md on RDF");
            for (const std::string& name : texts_of(one)) {
                const std::string term = term_of_name(one, name);
                if (term.empty()) continue;
                Mapping::Use& use = mapping_.uses_[term];
                if (role == roles.end()) {
                    use.folds = true;
                } else {
                    use.fold = role->second;
                }
            }
        });
    }

    std::string evidence_name(const JsonNode& node, std::string_view name) {
        if (one_of(evidence_fields, name)) return std::string(name);
        wrong(node, "mapping-unknown-field", fmt::format("evidence has no \"{}\"", name),
              "use source, at, quote, certainty, recorded_by, recorded_on or stance");
        return {};
    }

    void statements() {
        each_of(tree_.root(), "statements", [&](const JsonNode& one) {
            const bool part = one.key == "subject" || one.key == "property" || one.key == "object";
            const std::string role = part ? std::string(one.key) : evidence_name(one, one.key);
            if (role.empty()) return;
            for (const std::string& name : texts_of(one)) {
                const std::string term = term_of_name(one, name);
                if (term.empty()) continue;
                Mapping::Use& use = mapping_.uses_[term];
                use.role = role;
                use.folds = use.folds || role == "object";
            }
        });
    }

    void evidence() {
        each_of(tree_.root(), "evidence", [&](const JsonNode& one) {
            const std::string name = evidence_name(one, one.key);
            if (name.empty()) return;
            for (const std::string& property : texts_of(one)) {
                const std::string term = term_of_name(one, property);
                if (!term.empty()) mapping_.uses_[term].evidence = name;
            }
        });
    }

    TextLines lines_;
    const Vocabulary& vocabulary_;
    bool lenient_;
    Problems& problems_;
    JsonTree tree_;
    std::map<std::string, std::string, std::less<>> prefixes_;
    Mapping mapping_;
    bool good_ = true;
};

std::optional<Mapping> Mapping::read(std::string_view text, std::string_view file, const Vocabulary& vocabulary, bool lenient,
                                     Problems& problems) {
    return MappingReader(text, file, vocabulary, lenient, problems).read();
}

std::string_view Mapping::default_document() { return embedded::rdf_default_mapping; }

const Mapping::Use* Mapping::use_of(std::string_view property) const {
    const auto found = uses_.find(std::string(property));
    return found == uses_.end() ? nullptr : &found->second;
}

std::optional<std::pair<std::size_t, std::string_view>> Mapping::kind_of_class(std::string_view term) const {
    const auto found = kinds_.find(std::string(term));
    if (found == kinds_.end()) return std::nullopt;
    return std::pair<std::size_t, std::string_view>(found->second.first, found->second.second);
}

std::optional<std::pair<std::string_view, std::string_view>> Mapping::kind_of_iri(std::string_view iri) const {
    for (const auto& [start, kind] : starts_) {
        if (iri.size() > start.size() && iri.substr(0, start.size()) == start)
            return std::pair<std::string_view, std::string_view>(kind, iri.substr(start.size()));
    }
    return std::nullopt;
}

}  // namespace saggar::rdf
