#include <fmt/format.h>

#include <algorithm>

#include "app/json_out.h"
#include "app/session.h"
#include "app/text/rulings.h"
#include "app/verbs/verbs.h"
#include "kg/model/fault.h"
#include "kg/model/key.h"
#include "kg/model/vocabulary.h"
#include "kg/weigh/weigher.h"
#include "queries/disputes_json.h"
#include "queries/privacy.h"
#include "queries/statement.h"
#include "viz/draft.h"

namespace saggar::app {
namespace {

// Writes "name: text" wrapped under itself, unless the text is empty.
void field(Call& call, std::string_view name, const std::string& text) {
    if (text.empty()) return;
    *call.out << "    " << name << ": " << wrap(text, call.layout.width, 6 + name.size()) << '\n';
}

bool hidden(const Call& call, bool is_private) { return is_private && !call.with_private; }

void write_evidence(Call& call, const Snapshot& graph, const std::vector<EvidenceRow>& evidence) {
    for (const EvidenceRow& row : evidence) {
        if (hidden(call, row.is_private)) {
            *call.out << "        (a private reading; see it with --with-private)\n";
            continue;
        }
        const std::string side = row.stance == Stance::in_favour ? "for      " : "against  ";
        *call.out << "        " << side << wrap(evidence_words(graph, row), call.layout.width, 17) << '\n';
        *call.out << "                 "
                  << call.layout.faint("evidence:" + row.id.brief() + "  " + graph.key_of(row.source)) << '\n';
        if (!row.remark.empty())
            *call.out << "                 remark: " << wrap(row.remark, call.layout.width, 25) << '\n';
    }
}

void write_arguments(Call& call, const Snapshot& graph, ClaimRef claim) {
    for (const ArgumentRow& row : graph.arguments_for(claim)) {
        if (hidden(call, row.is_private)) continue;
        *call.out << "        " << (row.stance == Stance::in_favour ? "argued for  " : "argued against  ")
                  << wrap(fmt::format("{} (strength {})", row.reason, row.strength), call.layout.width, 20) << '\n';
        *call.out << "                 " << call.layout.faint("argument:" + row.id.brief()) << '\n';
        for (const ClaimRef& premise : row.premises)
            if (const auto found = graph.claim(premise))
                *call.out << "                 since " << wrap(statement(graph, found->claim), call.layout.width, 23)
                          << '\n';
    }
}

void write_rulings(Call& call, const Snapshot& graph, ClaimRef claim) {
    if (graph.rulings(claim).empty()) return;
    const Weigher weigher(graph);
    Gatherer gatherer(graph, weigher.profile());
    write_rulings(call, graph, standing_of(graph, gatherer, claim), 8);
}

void write_claim(Call& call, const Snapshot& graph, const ClaimWithEvidence& claim) {
    if (hidden(call, claim.claim.is_private)) {
        *call.out << "    (a private claim; see it with --with-private)\n";
        return;
    }
    *call.out << "    " << wrap(statement(graph, claim.claim), call.layout.width, 6) << "  "
              << call.layout.faint("claim:" + claim.claim.id.brief()) << '\n';
    write_evidence(call, graph, claim.evidence);
    write_arguments(call, graph, claim.claim.ref);
    write_rulings(call, graph, claim.claim.ref);
}

void write_source(Call& call, const Source& source) {
    *call.out << call.layout.strong("as a source") << '\n';
    field(call, "title", source.title);
    field(call, "author", source.author);
    field(call, "type", source.type);
    field(call, "grade", source.grade);
    if (source.reliability) field(call, "reliability", fmt::format("{}", *source.reliability));
    field(call, "family", source.family);
    for (const Copy& copy : source.copied_from)
        field(call, "copied from", copy.chance < 1 ? fmt::format("{} (suspected, {})", copy.of, copy.chance) : copy.of);
    field(call, "issued", source.issued);
    field(call, "archive", source.archive);
    field(call, "place", source.place);
    field(call, "collection", source.collection);
    field(call, "box", source.box);
    field(call, "folder", source.folder);
    field(call, "url", source.url);
    field(call, "rights", source.rights);
    for (const auto& [name, text] : source.more) field(call, name, text);
}

void write_lists(Call& call, const Snapshot& graph, EntityId id) {
    for (const ListingRow& row : graph.listings_of(id)) {
        if (hidden(call, row.is_private)) continue;
        std::string text = fmt::format("{} lists everything that {} {}", graph.label_of(row.source), graph.label_of(id),
                                       relation_words(graph, row.relation));
        if (!row.when.empty()) text += ", " + row.when;
        text += fmt::format(" (completeness {})", row.completeness);
        *call.out << "    " << wrap(text, call.layout.width, 6) << "  " << call.layout.faint("list:" + row.id.brief())
                  << '\n';
    }
}

bool hazardous(const Snapshot& graph, EntityId id) {
    const RelationId hazard = graph.relation_id("hazard");
    return hazard && !graph.claims_of(id, hazard).empty();
}

// The usual caution where the thing, or a glaze or treatment on it, is flagged.
void write_caution(Call& call, const Snapshot& graph, EntityId id, const std::vector<ClaimWithEvidence>& claims) {
    const bool flagged =
        hazardous(graph, id) || std::any_of(claims.begin(), claims.end(), [&](const ClaimWithEvidence& one) {
            return one.claim.has_entity_object() && hazardous(graph, one.claim.object);
        });
    if (flagged) *call.out << "! " << wrap(viz::kGlazeCaution, call.layout.width, 2) << '\n';
}

nlohmann::json rulings_as_json(const Call& call, const Snapshot& graph, ClaimRef claim) {
    nlohmann::json all = nlohmann::json::array();
    if (graph.rulings(claim).empty()) return all;
    const Weigher weigher(graph);
    Gatherer gatherer(graph, weigher.profile());
    Privacy privacy(graph, call.with_private);
    for (const RulingStanding& standing : standing_of(graph, gatherer, claim))
        if (privacy.may_show(standing.ruling)) all.push_back(to_json(standing, graph, privacy));
    return all;
}

nlohmann::json claim_as_json(const Call& call, const Snapshot& graph, const ClaimWithEvidence& claim) {
    nlohmann::json one = as_json(Record(graph.to_record(claim.claim)));
    one["statement"] = statement(graph, claim.claim);
    nlohmann::json evidence = nlohmann::json::array();
    for (const EvidenceRow& row : claim.evidence)
        if (!hidden(call, row.is_private)) evidence.push_back(as_json(Record(graph.to_record(row, claim.claim.id))));
    one["evidence"] = std::move(evidence);
    one["rulings"] = rulings_as_json(call, graph, claim.claim.ref);
    return one;
}

int show_entity(Call& call, const Snapshot& graph, EntityId id) {
    const Entity entity = *graph.entity(id);
    if (hidden(call, entity.is_private))
        throw UsageFault(entity.key + " is marked private", "see it with --with-private");
    const auto source = graph.source(id);
    const auto claims = graph.claims_of(id);
    std::vector<ClaimWithEvidence> about;
    for (const ClaimRef& ref : graph.claims_about(id))
        if (auto claim = graph.claim(ref)) about.push_back(std::move(*claim));
    if (call.json) {
        nlohmann::json all = {{"entity", as_json(Record(entity))},
                              {"claims", nlohmann::json::array()},
                              {"claims_about", nlohmann::json::array()},
                              {"entry", graph.entry()}};
        if (source) all["source"] = as_json(Record(*source));
        for (const auto& claim : claims)
            if (!hidden(call, claim.claim.is_private)) all["claims"].push_back(claim_as_json(call, graph, claim));
        for (const auto& claim : about)
            if (!hidden(call, claim.claim.is_private)) all["claims_about"].push_back(claim_as_json(call, graph, claim));
        print(*call.out, all);
        return fine;
    }
    const std::string_view kind = graph.kind_of(id);
    const Kind* known = graph.vocabulary().find_kind(kind);
    *call.out << call.layout.strong(graph.label_of(id)) << "  " << call.layout.faint(entity.key) << "  ("
              << (known ? known->label : std::string(kind)) << ")\n";
    std::string also;
    for (const Name& name : entity.also)
        also += (also.empty() ? "" : "; ") + name.text + (name.language.empty() ? "" : " [" + name.language + "]");
    field(call, "also", also);
    field(call, "remark", entity.remark);
    field(call, "image", entity.image);
    for (const std::string& identifier : entity.identifiers) field(call, "identifier", identifier);
    if (source) write_source(call, *source);
    if (!claims.empty()) *call.out << call.layout.strong("what is claimed of it") << '\n';
    for (const auto& claim : claims) write_claim(call, graph, claim);
    write_lists(call, graph, id);
    if (!about.empty()) *call.out << call.layout.strong("claims that name it") << '\n';
    for (const auto& claim : about) write_claim(call, graph, claim);
    write_caution(call, graph, id, claims);
    const auto readings = graph.evidence_from(id);
    if (!readings.empty()) {
        *call.out << call.layout.strong("what is read in it") << '\n';
        for (const EvidenceRow& row : readings) {
            const auto claim = graph.claim(row.claim);
            if (!claim || hidden(call, row.is_private) || hidden(call, claim->claim.is_private)) continue;
            const std::string side = row.stance == Stance::in_favour ? "for      " : "against  ";
            *call.out << "    " << side << wrap(statement(graph, claim->claim), call.layout.width, 13) << "  "
                      << call.layout.faint("claim:" + claim->claim.id.brief()) << '\n';
        }
    }
    return fine;
}

int show_record(Call& call, const Snapshot& graph, const std::string& text) {
    const ContentId id = graph.need_id(text);
    const RecordPlace place = *graph.place_of(id);
    if (place.type == RecordPlace::Type::list) {
        for (const ListingRow& row : graph.listings(place.claim.subject, place.claim.relation)) {
            if (row.id != id || hidden(call, row.is_private)) continue;
            if (call.json) {
                print(*call.out, {{"list", as_json(Record(graph.to_record(row)))}});
            } else {
                write_lists(call, graph, place.claim.subject);
            }
            return fine;
        }
        throw UsageFault(text + " is not in force", "see `saggar history`");
    }
    const auto claim = graph.claim(place.claim);
    if (!claim)
        throw UsageFault(text + " is not in force", "see `saggar history` for when it was withdrawn, or use --as-of");
    if (hidden(call, claim->claim.is_private))
        throw UsageFault(text + " is marked private", "see it with --with-private");
    if (call.json) {
        print(*call.out, {{"claim", claim_as_json(call, graph, *claim)}, {"entry", graph.entry()}});
    } else {
        write_claim(call, graph, *claim);
    }
    return fine;
}

int show_vocabulary(Call& call, const Snapshot& graph) {
    if (call.json) {
        *call.out << graph.vocabulary_text();
        return fine;
    }
    const Vocabulary& words = graph.vocabulary();
    *call.out << "vocabulary " << words.name() << ", version " << words.version() << '\n';
    std::vector<std::vector<std::string>> rows = {{"relation", "of", "to", "read backwards"}};
    for (const Relation& relation : words.relations()) {
        std::string backwards = relation.symmetric ? relation.name : relation.inverse;
        rows.push_back({relation.name + (relation.at_most_one ? " (at most one)" : ""), relation.subjects_in_words(),
                        relation.objects_in_words(), backwards});
    }
    *call.out << table(rows, call.layout);
    return fine;
}

int run_show(Call& call) {
    const Session session = open_to_read(call);
    const Snapshot& graph = *session.snapshot;
    const std::string what = call.operand("KEY");
    if (what == "vocabulary") return show_vocabulary(call, graph);
    const auto parts = split_key(what);
    if (!parts || is_reserved_kind(parts->kind)) return show_record(call, graph, what);
    return show_entity(call, graph, graph.need(what));
}

}  // namespace

Verb show_verb() {
    return {"show",
            "everything known about one thing, claim or source",
            {{"KEY", "kind:slug, or the id of a claim or reading, or `vocabulary`"}},
            {},
            run_show,
            ""};
}

}  // namespace saggar::app
