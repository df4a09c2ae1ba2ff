#include "viz/draft.h"

#include <fmt/format.h>

#include <algorithm>

#include "kg/model/vocabulary.h"
#include "queries/cite_graph.h"
#include "queries/cite_kind.h"
#include "queries/statement.h"
#include "viz/notation.h"

namespace saggar::viz {

const char* const kGlazeCaution =
    "Old glazes and on-glaze colours can hold lead, cadmium or uranium. Do not use such pieces for food unless they "
    "have been tested; "
    "follow local food-safety rules; dust from repairs is a hazard.";

Draft::Draft(const Snapshot& snapshot, DraftOptions options, std::string name)
    : snapshot_(snapshot), options_(std::move(options)), privacy_(snapshot, options_.with_private) {
    diagram_.name = std::move(name);
}

bool Draft::counted(bool shown, const std::string& name) {
    if (!shown) private_seen_.insert(name);
    return shown;
}

bool Draft::may_show(EntityId id) { return privacy_.may_show(id) || counted(false, snapshot_.key_of(id)); }
bool Draft::may_show(const EvidenceRow& row) { return counted(privacy_.may_show(row), row.id.full()); }
bool Draft::may_show(const ClaimRow& row) { return counted(privacy_.may_show(row), row.id.full()); }
bool Draft::may_show(const ClaimWithEvidence& claim) { return counted(privacy_.may_show(claim), claim.claim.id.full()); }
bool Draft::may_show(const ListingRow& row) { return counted(privacy_.may_show(row), row.id.full()); }
bool Draft::may_show(const ArgumentRow& row) { return counted(privacy_.may_show(row), row.id.full()); }

// By a ruling that may be told.
bool Draft::is_ruled(ClaimRef claim) const {
    const auto rulings = snapshot_.rulings(claim);
    return std::any_of(rulings.begin(), rulings.end(), [this](const RulingRow& row) { return may_show(row); });
}

void Draft::describe_source(EntityId id, DiagramNode& node) {
    const auto source = source_of(snapshot_, id);
    const auto word = kind_in_note(source.type);
    node.outline = cite_pattern(source) == CitePattern::piece ? Outline::footed : Outline::folded;
    node.kind = word.empty() ? (source.type.empty() ? "source" : source.type) : std::string(word);
    node.label = source_name(source);
    if (!title_tells_date(source.title, source.issued)) node.note = date_in_words(source.issued, options_.cite.dates);
}

void Draft::add_caution(EntityId id, std::size_t node) {
    const auto hazard = snapshot_.relation_id("hazard");
    if (!hazard || snapshot_.claims_of(id, hazard).empty()) return;
    diagram_.nodes[node].caution = true;
    if (diagram_.cautions.empty()) diagram_.cautions.emplace_back(kGlazeCaution);
}

std::size_t Draft::entity(EntityId id) {
    const auto [place, is_new] = entities_.try_emplace(id, diagram_.nodes.size());
    if (!is_new) return place->second;
    DiagramNode node;
    node.key = snapshot_.key_of(id);
    const std::string kind_name(snapshot_.kind_of(id));
    const Kind* kind = snapshot_.vocabulary().find_kind(kind_name);
    node.kind = kind != nullptr && !kind->label.empty() ? kind->label : kind_name;
    node.outline = kind == nullptr ? Outline::box : outline_of_class(kind->category);
    node.label = snapshot_.label_of(id);
    if (kind_name == "source") describe_source(id, node);
    diagram_.nodes.push_back(std::move(node));
    add_caution(id, place->second);
    return place->second;
}

std::size_t Draft::claim(const ClaimWithEvidence& claim) {
    const auto [place, is_new] = claims_.try_emplace(claim.claim.ref, diagram_.nodes.size());
    if (!is_new) return place->second;
    DiagramNode node;
    node.key = "claim:" + claim.claim.id.full();
    node.kind = "claim";
    node.outline = Outline::card;
    node.label = statement(snapshot_, claim.claim);
    if (options_.figure) {
        const Figure figure = options_.figure(claim.claim.ref);
        node.weight = figure.support;
        node.disputed = figure.disputed;
    }
    node.ruled = is_ruled(claim.claim.ref);
    diagram_.nodes.push_back(std::move(node));
    return place->second;
}

std::size_t Draft::value(const ClaimRow& claim) {
    DiagramNode node;
    node.outline = Outline::bare;
    node.label = claim.object_type == Value::Type::date ? date_in_words(claim.object_text, options_.cite.dates)
                                                        : object_words(snapshot_, claim);
    diagram_.nodes.push_back(std::move(node));
    return diagram_.nodes.size() - 1;
}

std::optional<std::size_t> Draft::claim_line(const ClaimWithEvidence& claim) {
    if (const auto known = claim_lines_.find(claim.claim.ref); known != claim_lines_.end()) return known->second;
    if (!may_show(claim)) return std::nullopt;
    DiagramEdge edge;
    edge.from = entity(claim.claim.ref.subject);
    edge.to = claim.claim.has_entity_object() ? entity(claim.claim.object) : value(claim.claim);
    edge.key = "claim:" + claim.claim.id.full();
    edge.label = relation_words(snapshot_, claim.claim.ref.relation);
    if (const auto limits = limits_words(snapshot_, claim.claim); !limits.empty()) edge.label += " (" + limits + ")";
    for (const auto& row : claim.evidence) {
        if (!may_show(row)) continue;
        (row.stance == Stance::in_favour ? edge.cited_for : edge.cited_against).push_back(cite(row));
    }
    edge.inferred = claim.evidence.empty() && !snapshot_.arguments_for(claim.claim.ref).empty();
    if (options_.figure) {
        const Figure figure = options_.figure(claim.claim.ref);
        edge.weight = figure.support;
        edge.disputed = figure.disputed;
    }
    edge.ruled = is_ruled(claim.claim.ref);
    diagram_.edges.push_back(std::move(edge));
    return claim_lines_[claim.claim.ref] = diagram_.edges.size() - 1;
}

std::optional<std::size_t> Draft::evidence_line(const EvidenceRow& row, std::size_t claim_node,
                                                std::optional<double> reliability) {
    if (!may_show(row)) return std::nullopt;
    DiagramEdge edge;
    edge.from = entity(row.source);
    edge.to = claim_node;
    edge.role = LineRole::evidence;
    edge.key = "evidence:" + row.id.full();
    edge.label = manner_of(row);
    edge.weight = reliability;
    edge.stance = row.stance;
    (row.stance == Stance::in_favour ? edge.cited_for : edge.cited_against).push_back(cite(row));
    diagram_.edges.push_back(std::move(edge));
    return diagram_.edges.size() - 1;
}

int Draft::cite_text(const CitedText& full, const CitedText& brief, EntityId source) {
    const auto [place, is_new] =
        citations_.try_emplace(to_plain(full), static_cast<int>(diagram_.citations.size()) + 1);
    if (!is_new) return place->second;
    const bool known_source = !cited_sources_.insert(source).second;
    diagram_.citations.push_back({place->second, to_plain(options_.short_notes && known_source ? brief : full)});
    return place->second;
}

int Draft::cite(const EvidenceRow& row) {
    return cite_text(evidence_note(snapshot_, row, options_.cite), evidence_note_short(snapshot_, row, options_.cite),
                     row.source);
}

int Draft::cite(const ListingRow& row) {
    const auto note = listing_note(snapshot_, row, options_.cite);
    return cite_text(note, note, row.source);
}

int Draft::cite(EntityId source) {
    const auto record = source_of(snapshot_, source);
    return cite_text(full_note(record, {}, {}, options_.cite), short_note(record, {}, {}, options_.cite), source);
}

Diagram Draft::finish(std::string title, std::string description) {
    diagram_.title = std::move(title);
    diagram_.description = std::move(description);
    if (!private_seen_.empty()) {
        diagram_.left_out += fmt::format("{}{} private record{} not shown.", diagram_.left_out.empty() ? "" : " ",
                                         private_seen_.size(), private_seen_.size() == 1 ? "" : "s");
    }
    diagram_.made_from = fmt::format("Graph entry {}", snapshot_.entry());
    if (!options_.made_from.empty()) diagram_.made_from += "; " + options_.made_from;
    if (options_.figure)
        diagram_.made_from += ". Weights follow the conventions of the weighing profile; they are not facts.";
    return std::move(diagram_);
}

}  // namespace saggar::viz
