// The rounds of mapped_records.h that make keys, records and claims; graph_claims.cpp gives the claims their evidence.
#include <fmt/format.h>

#include <algorithm>
#include <tuple>

#include "importers/claim_words.h"
#include "importers/rdf/mapped_records.h"
#include "importers/rdf/own_names.h"
#include "importers/thing_rows.h"
#include "importers/words.h"
#include "kg/model/key.h"

namespace saggar::rdf {
namespace {

constexpr std::size_t longest_quote = 500;

std::string words_of(std::string_view term) {
    if (is_literal(term)) return literal_of(term).text;
    return is_iri(term) ? last_segment(iri_of(term)) : std::string(term.substr(2));
}

// What stands in the file for a term, as far as a line may show it.
std::string slice_of(std::string_view term) { return is_iri(term) ? last_segment(iri_of(term)) : words_of(term).substr(0, 60); }

}  // namespace

std::string MappedRecords::without_clock(const std::string& text) {
    const std::size_t clock = text.find('T');
    return clock == 10 ? text.substr(0, clock) : text;
}

struct MappedRecords::Node {
    std::string term;
    std::vector<Statement> said;
    std::string key;
    std::string kind;
    bool described = false;
    bool is_act = false;  // gives evidence to the statements that it makes
};

// KIND and the name of the thing, as far as its IRI gives one; empty otherwise.
std::string MappedRecords::key_by_name(std::string_view term, std::string_view kind) const {
    if (const auto own = own_name(term, "thing")) return is_key(*own) ? std::string(*own) : std::string();
    if (kind.empty()) return {};
    std::string words;
    if (is_iri(term)) {
        const auto start = mapping_.kind_of_iri(iri_of(term));
        words = start ? std::string(start->second) : last_segment(iri_of(term));
    } else if (is_literal(term)) {
        words = literal_of(term).text;
    }
    std::string key = fmt::format("{}:{}", kind, words);
    if (is_key(key)) return key;
    key = fmt::format("{}:{}", kind, slugify(words));
    return is_key(key) ? key : std::string();
}

// The kind that all the relations ask for at one end; empty where they leave it open.
std::string MappedRecords::only_kind(const std::vector<std::string>& relations, bool of_subject) const {
    std::string kind;
    for (const std::string& name : relations) {
        const auto use = context_.vocabulary.find_use(name);
        if (!use) continue;
        const Relation& relation = context_.vocabulary.relation(use->relation);
        const bool from = of_subject != use->inverse;
        const std::vector<std::string>& kinds = from ? relation.from : relation.to;
        if (kinds.size() != 1 || (from ? relation.any_from : relation.any_to) || (!kind.empty() && kind != kinds.front())) return {};
        kind = kinds.front();
    }
    return kind;
}

void MappedRecords::note_key(const std::string& key, std::string_view node, const Spot& spot) {
    std::string pair = key;
    pair += '\0';
    pair += node;
    std::string value;
    pack(value, spot.line);
    pack(value, spot.column);
    keys_.add(pair, value);
}

void MappedRecords::name_subjects(Sink& sink, Problems& problems, const SourceLines& lines) {
    Node node;
    subjects_.each([&](std::string_view term, bool first, std::uint8_t rank, std::string_view message) {
        if (first) {
            if (!node.term.empty() && !node.described) describe(node, sink, problems, lines);
            node = Node();
            node.term = term;
        }
        Statement statement = unpacked(message);
        if (rank == 0 && statement.predicate == said_of_act) {
            node.is_act = true;
            return;
        }
        if (rank == 0) {
            if (node.said.size() < most_together) return node.said.push_back(std::move(statement));
            if (node.described) return;
            node.described = true;
            problems.add({"rdf-too-many", Severity::error, lines.place(statement.spot),
                          fmt::format("{} has more than {} names and notes", term, most_together), "map fewer properties to fields"});
            return;
        }
        if (!node.described) describe(node, sink, problems, lines);
        say(node, statement, problems, lines);
    });
    if (!node.term.empty() && !node.described) describe(node, sink, problems, lines);
}

// Class and names into a key and records.
void MappedRecords::describe(Node& node, Sink& sink, Problems& problems, const SourceLines& lines) {
    node.described = true;
    Spot spot{0, 0};
    std::size_t best = std::string::npos;
    const Statement* unknown_class = nullptr;
    bool known_class = false;
    std::string label;
    for (const Statement& one : node.said) {
        if (spot.line == 0 || one.spot.line < spot.line) spot = one.spot;
        const Mapping::Use* use = mapping_.use_of(one.predicate);
        if (use->type) {
            const auto kind = mapping_.kind_of_class(one.object);
            if (!kind) unknown_class = &one;
            known_class = known_class || kind;
            if (kind && !kind->second.empty() && kind->first < best) {
                best = kind->first;
                node.kind = kind->second;
            }
        }
        if (use->field == "label" && is_literal(one.object) && label.empty()) label = literal_of(one.object).text;
    }
    if (is_iri(node.term)) {
        if (const auto start = mapping_.kind_of_iri(iri_of(node.term))) node.kind = start->first;
    }
    node.key = is_blank(node.term) ? key_by_name(literal_term(label), node.kind) : key_by_name(node.term, node.kind);
    if (node.key.empty()) {
        if (!node.kind.empty())
            pass_over("unnamed things of kind " + node.kind, spot);
        else if (unknown_class && !known_class)
            pass_over("class " + unknown_class->object, unknown_class->spot);
        return;
    }
    const auto parts = split_key(node.key);
    node.kind = parts ? std::string(parts->kind) : node.kind;
    note_key(node.key, node.term, spot);
    std::string known;
    pack(known, node.key);
    objects_.add(node.term, 0, known);

    const SpotOrigin origin(lines, spot, slice_of(node.term));
    Entity entity;
    entity.key = node.key;
    Source source;
    source.key = node.key;
    bool is_source = node.kind == "source";
    if (is_iri(node.term) && !own_name(node.term, "thing")) entity.identifiers.emplace_back(iri_of(node.term));
    for (const Statement& one : node.said) {
        const Mapping::Use* use = mapping_.use_of(one.predicate);
        if (use->field.empty()) continue;
        const std::string text = is_literal(one.object) ? literal_of(one.object).text : std::string(iri_of(one.object));
        const Name name{text, is_literal(one.object) ? std::string(literal_of(one.object).tag) : std::string()};
        if (is_blank(one.object) || trim(text).empty()) continue;
        if (use->field == "label") {
            if (entity.label.text.empty())
                entity.label = name;
            else if (entity.label != name)
                entity.also.push_back(name);
        } else if (use->field == "also") {
            entity.also.push_back(name);
        } else if (use->field == "remark") {
            entity.remark += (entity.remark.empty() ? "" : " ") + text;
        } else if (use->field == "image") {
            entity.image = text;
        } else if (use->field == "identifier") {
            entity.identifiers.push_back(text);
        } else if (is_source && is_literal(one.object)) {
            set_source_field(source, use->field, text, SpotOrigin(lines, one.spot, slice_of(one.object)), problems);
        }
    }
    std::sort(entity.also.begin(), entity.also.end(), [](const Name& a, const Name& b) { return std::tie(a.text, a.language) < std::tie(b.text, b.language); });
    std::sort(entity.identifiers.begin(), entity.identifiers.end());
    if (is_source) {
        if (source.title.empty()) source.title = entity.label.text;
        settle_more(source);
        sink.put(source, origin);
    }
    sink.put(std::move(entity), origin);
}

// One statement of a node whose key is known, or can be told from what the relation asks for.
void MappedRecords::say(const Node& node, const Statement& statement, Problems& problems, const SourceLines& lines) {
    const Meaning meaning = meaning_of(statement.predicate);
    std::string message;
    if (!meaning.evidence.empty()) {
        if (is_literal(statement.object)) {
            tell_graph(node.term, meaning.evidence, words_of(statement.object));
        } else {
            pack(message, std::string_view(meaning.evidence));
            pack(message, node.term);
            message += packed(statement);
            objects_.add(statement.object, 1, message);
        }
    }
    const auto own = own_name(statement.predicate, "relation");
    if (!own && (!meaning.relations || meaning.relations->empty())) return;
    std::string key = node.key;
    if (key.empty() && !own) key = key_by_name(node.term, only_kind(*meaning.relations, true));
    if (key.empty()) {
        if (meaning.evidence.empty() && !node.is_act) pass_over("statements of " + statement.predicate + " whose subject has no known kind", statement.spot);
        return;
    }
    Statement resolved = statement;
    resolved.subject = key;
    if (is_literal(statement.object)) return settle(resolved, {}, problems, lines);
    message.clear();
    pack(message, std::string_view());
    pack(message, node.term);
    message += packed(resolved);
    objects_.add(statement.object, 1, message);
}

void MappedRecords::name_objects(Problems& problems, const SourceLines& lines) {
    std::string known;
    objects_.each([&](std::string_view term, bool first, std::uint8_t rank, std::string_view message) {
        if (first) known.clear();
        Unpack unpack(message);
        if (rank == 0) {
            known = unpack.text();
            return;
        }
        const std::string_view evidence = unpack.text();
        const std::string_view subject = unpack.text();
        const Statement statement = unpacked(message.substr(8 + evidence.size() + subject.size()));
        std::string key = known;
        if (key.empty()) key = key_by_name(term, is_iri(term) && mapping_.kind_of_iri(iri_of(term)) ? mapping_.kind_of_iri(iri_of(term))->first : "");
        if (!evidence.empty()) {
            if (evidence == "source" && key.empty()) key = key_by_name(term, "source");
            tell_graph(subject, evidence, evidence == "source" && !key.empty() ? key : words_of(term));
            return;
        }
        const Meaning meaning = meaning_of(statement.predicate);
        if (key.empty() && meaning.relations) key = key_by_name(term, only_kind(*meaning.relations, false));
        if (key.empty()) return pass_over("statements of " + statement.predicate + " whose object has no known kind", statement.spot);
        settle(statement, key, problems, lines);
    });
}

void MappedRecords::tell_graph(std::string_view graph, std::string_view field, std::string_view value) {
    std::string message;
    pack(message, field);
    pack(message, value);
    graphs_.add(graph, 0, message);
}

// A statement whose ends are known, into a claim for its graph.
void MappedRecords::settle(const Statement& statement, const std::string& object_key, Problems& problems, const SourceLines& lines) {
    const Meaning meaning = meaning_of(statement.predicate);
    const auto own = own_name(statement.predicate, "relation");
    const std::vector<std::string> own_relation = {std::string(own.value_or(""))};
    const auto subject = split_key(statement.subject);
    const auto object = split_key(object_key);
    const Relation* relation = nullptr;
    std::string name;
    for (const std::string& candidate : own ? own_relation : *meaning.relations) {
        const auto use = context_.vocabulary.find_use(candidate);
        if (!use || !subject) continue;
        const Relation& one = context_.vocabulary.relation(use->relation);
        const bool fits = object_key.empty() ? !use->inverse && one.takes_subject(subject->kind) && (one.to_text || one.to_number || one.to_date)
                          : use->inverse     ? one.takes_subject(object->kind) && one.takes_object(subject->kind)
                                             : one.takes_subject(subject->kind) && one.takes_object(object->kind);
        if (!fits) continue;
        relation = &one;
        name = candidate;
        break;
    }
    if (!relation && is_literal(statement.object)) {
        const Mapping::Use* use = mapping_.use_of(statement.predicate);
        if (use && !use->field.empty()) return;  // it was read as a field
    }
    if (!relation) return pass_over("statements of " + statement.predicate + " whose ends are of kinds that it does not join", statement.spot);
    const std::string slice = slice_of(statement.object);
    const std::string text = object_key.empty() ? literal_of(statement.object).text : object_key;
    const std::string object_words = object_key.empty() && relation->to_date ? without_clock(text) : text;
    const auto claim = claim_of_words({statement.subject, name, object_words, "", ""}, context_.vocabulary,
                                      SpotOrigin(lines, statement.spot, slice), problems);
    if (!claim) return;
    std::string message;
    const std::string json = to_json_line(*claim);
    pack(message, json);
    const bool shown = statement.as_written && !is_blank(statement.object);
    const std::string quote = !shown ? std::string() : statement.predicate + ' ' + statement.object;
    pack(message, quote.size() > longest_quote ? std::string_view() : std::string_view(quote));
    pack(message, slice);
    pack(message, statement.spot.line);
    pack(message, statement.spot.column);
    graphs_.add(statement.graph, 1, message);
}

// What was passed over, and two things that became one.
void MappedRecords::warn(Problems& problems, const SourceLines& lines) {
    if (mapping_.warns()) {
        for (const auto& [why, passed] : passed_) {
            problems.add({"rdf-not-mapped", Severity::warning, lines.place(passed.spot),
                          fmt::format("passed over, {} {}: {}", passed.count, passed.count == 1 ? "time" : "times", why),
                          "say in the mapping what it means, or \"unmapped\": \"pass\""});
        }
    }
    std::string key;
    std::string node;
    keys_.merge([&](std::string_view pair, std::string_view value) {
        const std::string_view now = pair.substr(0, pair.find('\0'));
        const std::string_view term = pair.substr(now.size() + 1);
        if (now == key && term != node) {
            Unpack unpack(value);
            const std::uint32_t line = unpack.number();
            problems.add({"rdf-same-key", Severity::warning, lines.place({line, unpack.number()}, slice_of(term)),
                          fmt::format("{} and {} both become {}", node, term, key),
                          "if they are two things, give their IRIs starts of their own in \"keys\""});
        }
        key = now;
        node = term;
    });
}

}  // namespace saggar::rdf
