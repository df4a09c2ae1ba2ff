#include <fmt/format.h>

#include <algorithm>

#include "app/json_out.h"
#include "app/session.h"
#include "app/text/caution.h"
#include "app/text/rulings.h"
#include "app/verbs/verbs.h"
#include "kg/model/fault.h"
#include "kg/model/key.h"
#include "kg/model/vocabulary.h"
#include "kg/weigh/aliases.h"
#include "kg/weigh/weigher.h"
#include "queries/disputes_json.h"
#include "queries/hazard.h"
#include "queries/privacy.h"
#include "queries/statement.h"

namespace saggar::app {
namespace {

// Writes "name: text" wrapped under itself, unless the text is empty.
void field(Call& call, std::string_view name, const std::string& text) {
    if (text.empty()) return;
    *call.out << "    " << name << ": " << wrap(text, call.layout.width, 6 + name.size()) << '\n';
}

void write_evidence(Call& call, const Snapshot& graph, Privacy& privacy, const std::vector<EvidenceRow>& evidence) {
    for (const EvidenceRow& row : evidence) {
        if (!privacy.may_show(row)) {
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

void write_arguments(Call& call, const Snapshot& graph, Privacy& privacy, ClaimRef claim) {
    for (const ArgumentRow& row : graph.arguments_for(claim)) {
        if (!privacy.may_show(row)) continue;
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

void write_claim(Call& call, const Snapshot& graph, Privacy& privacy, const ClaimWithEvidence& claim) {
    if (!privacy.may_show(claim)) {
        *call.out << "    (a private claim; see it with --with-private)\n";
        return;
    }
    *call.out << "    " << wrap_with_tail(statement(graph, claim.claim), "claim:" + claim.claim.id.brief(), call.layout, 6)
              << '\n';
    write_evidence(call, graph, privacy, claim.evidence);
    write_arguments(call, graph, privacy, claim.claim.ref);
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
    for (const Copy& copy : source.copied_from) {
        field(call, "copied from", copy.chance < 1 ? fmt::format("{} (suspected, {})", copy.of, copy.chance) : copy.of);
    }
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

void write_lists(Call& call, const Snapshot& graph, Privacy& privacy, EntityId id) {
    for (const ListingRow& row : graph.listings_of(id)) {
        if (!privacy.may_show(row)) continue;
        std::string text = fmt::format("{} lists everything that {} {}", graph.label_of(row.source), graph.label_of(id),
                                       relation_words(graph, row.relation));
        if (!row.when.empty()) text += ", " + row.when;
        text += fmt::format(" (completeness {})", row.completeness);
        *call.out << "    " << wrap(text, call.layout.width, 6) << "  " << call.layout.faint("list:" + row.id.brief())
                  << '\n';
    }
}

// Where the thing, or a glaze or treatment on it, is flagged.
void write_caution(Call& call, const Snapshot& graph, EntityId id, const std::vector<ClaimWithEvidence>& claims) {
    if (is_flagged(graph, id) || std::any_of(claims.begin(), claims.end(), [&](const ClaimWithEvidence& one) {
            return one.claim.has_entity_object() && is_flagged(graph, one.claim.object);
        }))
        write_caution(call);
}

nlohmann::json rulings_as_json(const Snapshot& graph, Privacy& privacy, ClaimRef claim) {
    nlohmann::json all = nlohmann::json::array();
    if (graph.rulings(claim).empty()) return all;
    const Weigher weigher(graph);
    Gatherer gatherer(graph, weigher.profile());
    for (const RulingStanding& standing : standing_of(graph, gatherer, claim))
        if (privacy.may_show(standing.ruling)) all.push_back(to_json(standing, graph, privacy));
    return all;
}

nlohmann::json claim_as_json(const Snapshot& graph, Privacy& privacy, const ClaimWithEvidence& claim) {
    nlohmann::json one = as_json(Record(graph.to_record(claim.claim)));
    one["statement"] = statement(graph, claim.claim);
    nlohmann::json evidence = nlohmann::json::array();
    for (const EvidenceRow& row : claim.evidence)
        if (privacy.may_show(row)) evidence.push_back(as_json(Record(graph.to_record(row, claim.claim.id))));
    one["evidence"] = std::move(evidence);
    one["rulings"] = rulings_as_json(graph, privacy, claim.claim.ref);
    return one;
}

std::vector<ClaimWithEvidence> claims_naming(const Snapshot& graph, EntityId id) {
    std::vector<ClaimWithEvidence> about;
    for (const ClaimRef& ref : graph.claims_about(id))
        if (auto claim = graph.claim(ref)) about.push_back(std::move(*claim));
    return about;
}

nlohmann::json claims_as_json(const Snapshot& graph, Privacy& privacy, const std::vector<ClaimWithEvidence>& claims) {
    nlohmann::json all = nlohmann::json::array();
    for (const ClaimWithEvidence& claim : claims)
        if (privacy.may_show(claim)) all.push_back(claim_as_json(graph, privacy, claim));
    return all;
}

// Other names of the thing that accepted identities give it, those told by private identities only where asked for.
std::vector<Alias> names_shown(const Snapshot& graph, Privacy& privacy, EntityId id) {
    Aliases aliases(graph);
    std::vector<Alias> names = aliases.of(id);
    std::erase_if(names, [&](const Alias& name) {
        return !privacy.may_show(name.other) ||
               !std::all_of(name.identities.begin(), name.identities.end(), [&](ClaimRef ref) { return privacy.may_show(ref); });
    });
    return names;
}

nlohmann::json names_as_json(const Snapshot& graph, Privacy& privacy, EntityId id) {
    nlohmann::json all = nlohmann::json::array();
    for (const Alias& name : names_shown(graph, privacy, id)) {
        nlohmann::json identities = nlohmann::json::array();
        for (const ClaimRef ref : name.identities) identities.push_back(graph.content_of(ref).full());
        all.push_back({{"key", graph.key_of(name.other)}, {"identities", identities},
                       {"claims", claims_as_json(graph, privacy, graph.claims_of(name.other))},
                       {"claims_about", claims_as_json(graph, privacy, claims_naming(graph, name.other))}});
    }
    return all;
}

// What is on record under the other names, each with the identities it goes by and what they weigh.
void write_names(Call& call, const Snapshot& graph, Privacy& privacy, EntityId id) {
    const std::vector<Alias> names = names_shown(graph, privacy, id);
    if (names.empty()) return;
    Weigher weigher(graph);
    for (const Alias& name : names) {
        *call.out << call.layout.strong("under the name " + graph.label_of(name.other)) << "  "
                  << call.layout.faint(graph.key_of(name.other)) << '\n';
        for (const ClaimRef ref : name.identities)
            *call.out << "    " << wrap_with_tail(
                                    fmt::format("taken as one by: {} (support {:.2f})",
                                                statement(graph, graph.claim(ref)->claim), weigher.support(ref)),
                                    "claim:" + graph.content_of(ref).brief(), call.layout, 6)
                      << '\n';
        const auto is_way = [&](const ClaimWithEvidence& claim) {
            return std::find(name.identities.begin(), name.identities.end(), claim.claim.ref) != name.identities.end();
        };
        for (const auto& claim : graph.claims_of(name.other))
            if (!is_way(claim)) write_claim(call, graph, privacy, claim);
        write_lists(call, graph, privacy, name.other);
        for (const auto& claim : claims_naming(graph, name.other))
            if (!is_way(claim)) write_claim(call, graph, privacy, claim);
    }
}

int show_entity_as_json(Call& call, const Snapshot& graph, Privacy& privacy, EntityId id) {
    nlohmann::json all = {{"entity", as_json(Record(*graph.entity(id)))},
                          {"claims", claims_as_json(graph, privacy, graph.claims_of(id))},
                          {"claims_about", claims_as_json(graph, privacy, claims_naming(graph, id))},
                          {"same_as", names_as_json(graph, privacy, id)},
                          {"entry", graph.entry()}};
    if (auto source = graph.source(id)) {
        all["source"] = as_json(Record(privacy.shown(*source)));
    }
    print(*call.out, all);
    return fine;
}

int show_entity(Call& call, const Snapshot& graph, EntityId id) {
    const Entity entity = *graph.entity(id);
    Privacy privacy(graph, call.with_private);
    if (!privacy.may_show(id)) throw UsageFault(entity.key + " is marked private", "see it with --with-private");
    if (call.json) return show_entity_as_json(call, graph, privacy, id);
    const auto source = graph.source(id);
    const auto claims = graph.claims_of(id);
    const auto about = claims_naming(graph, id);
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
    if (source) write_source(call, privacy.shown(*source));
    if (!claims.empty()) *call.out << call.layout.strong("what is claimed of it") << '\n';
    for (const auto& claim : claims) write_claim(call, graph, privacy, claim);
    write_lists(call, graph, privacy, id);
    if (!about.empty()) *call.out << call.layout.strong("claims that name it") << '\n';
    for (const auto& claim : about) write_claim(call, graph, privacy, claim);
    write_names(call, graph, privacy, id);
    write_caution(call, graph, id, claims);
    const auto readings = graph.evidence_from(id);
    if (!readings.empty()) {
        *call.out << call.layout.strong("what is read in it") << '\n';
        for (const EvidenceRow& row : readings) {
            const auto claim = graph.claim(row.claim);
            if (!claim || !privacy.may_show(row) || !privacy.may_show(*claim)) continue;
            const std::string side = row.stance == Stance::in_favour ? "for      " : "against  ";
            *call.out << "    " << side << wrap_with_tail(statement(graph, claim->claim), "claim:" + claim->claim.id.brief(),
                                                                call.layout, 13)
                      << '\n';
        }
    }
    return fine;
}

int show_record(Call& call, const Snapshot& graph, const std::string& text) {
    Privacy privacy(graph, call.with_private);
    const ContentId id = graph.need_id(text);
    const RecordPlace place = *graph.place_of(id);
    if (place.type == RecordPlace::Type::list) {
        for (const ListingRow& row : graph.listings(place.claim.subject, place.claim.relation)) {
            if (row.id != id || !privacy.may_show(row)) continue;
            if (call.json) {
                print(*call.out, {{"list", as_json(Record(graph.to_record(row)))}});
            } else {
                write_lists(call, graph, privacy, place.claim.subject);
            }
            return fine;
        }
        throw UsageFault(text + " is not in force", "see `saggar history`");
    }
    const auto claim = graph.claim(place.claim);
    if (!claim)
        throw UsageFault(text + " is not in force", "see `saggar history` for when it was withdrawn, or use --as-of");
    if (!privacy.may_show(*claim))
        throw UsageFault(text + " is marked private", "see it with --with-private");
    if (call.json) {
        print(*call.out, {{"claim", claim_as_json(graph, privacy, *claim)}, {"entry", graph.entry()}});
    } else {
        write_claim(call, graph, privacy, *claim);
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
