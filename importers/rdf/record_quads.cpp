#include "importers/rdf/record_quads.h"

#include <fmt/format.h>

#include "importers/rdf/field_quads.h"
#include "importers/rdf/own_names.h"
#include "kg/model/key.h"

namespace saggar::rdf {
namespace {

const std::string things_graph = "<urn:saggar:things>";
const std::string sources_graph = "<urn:saggar:sources>";
const std::string lists_graph = "<urn:saggar:lists>";
const std::string history_graph = "<urn:saggar:history>";

std::string number_text(std::uint64_t number) { return typed_term(std::to_string(number), xsd("integer")); }

std::string node_name(std::string_view space, std::string_view name) {
    return fmt::format("{}{}:{}", own_space, space, name);
}

std::string claim_graph(const ContentId& id, std::string_view part) {
    return own_term("claim", id.full() + ":" + std::string(part));
}

std::string term(const std::string& node) { return "<" + node + ">"; }

bool is_time(std::string_view text) {
    return text.size() >= 20 && text[4] == '-' && text[10] == 'T' && text.back() == 'Z';
}

// What a claim's status means for belief in it.
std::string_view held(std::string_view status) {
    if (status == "asserted") return "held-true";
    return status == "denied" ? "held-false" : "held-open";
}

}  // namespace

void RecordQuads::quad(std::string_view graph, std::string subject, std::string_view curie, std::string object) {
    emit_({std::move(subject), term_of(curie), std::move(object), std::string(graph)});
}

void RecordQuads::preface() {
    for (const Kind& kind : vocabulary_.kinds()) {
        const std::string node = own_term("kind", kind.name);
        quad("", node, "rdf:type", term_of("crm:E55_Type"));
        quad("", node, "rdfs:label", literal_term(kind.label));
    }
    for (const Relation& relation : vocabulary_.relations()) {
        const std::string node = own_term("relation", relation.name);
        quad("", node, "rdf:type", term_of("crm:E55_Type"));
        quad("", node, "rdf:type", term_of("rdf:Property"));
        quad("", node, "rdfs:label", literal_term(relation.label));
        const std::string near = term_of(relation.property);
        if (!near.empty()) quad("", node, "rdfs:seeAlso", near);
    }
    for (const std::string_view value : {"held-true", "held-false", "held-open"}) {
        quad("", own_term("term", value), "rdf:type", term_of("crminf:I6_Belief_Value"));
    }
}

std::string RecordQuads::version(std::uint64_t last) const {
    return last == entry_.number ? std::string() : fmt::format(":version:{}", entry_.number);
}

// What every record says of itself.
void RecordQuads::facts(const std::string& node, std::string_view graph, std::string_view type) {
    emit_({term(node), term_of("rdf:type"), own_term("term", type), std::string(graph)});
    emit_({term(node), own_term("term", "entry"), number_text(entry_.number), std::string(graph)});
    emit_({term(node), own_term("term", "order"), number_text(order_++), std::string(graph)});
    quad(graph, term(node), "prov:wasGeneratedBy", own_term("entry", std::to_string(entry_.number)));
}

void RecordQuads::agent(std::string_view graph, const std::string& node, const std::string& name) {
    if (name.empty()) return;
    const std::string who = agent_term(name);
    quad(graph, node, "prov:wasAttributedTo", who);
    quad(history_graph, who, "rdf:type", term_of("prov:Agent"));
    quad(history_graph, who, "rdfs:label", literal_term(name));
}

void RecordQuads::entry(const EntryHeader& entry) {
    entry_ = entry;
    order_ = 0;
    const std::string node = own_term("entry", std::to_string(entry.number));
    const auto own = [&](std::string_view field, const std::string& text) {
        if (!text.empty()) emit_({node, own_term("term", field), literal_term(text), history_graph});
    };
    quad(history_graph, node, "rdf:type", term_of("prov:Activity"));
    emit_({node, term_of("rdf:type"), own_term("term", "Entry"), history_graph});
    emit_({node, own_term("term", "number"), number_text(entry.number), history_graph});
    own("time", entry.time);
    own("author", entry.author);
    own("verb", entry.verb);
    own("reason", entry.reason);
    if (is_time(entry.time)) quad(history_graph, node, "prov:endedAtTime", typed_term(entry.time, xsd("dateTime")));
    if (!entry.author.empty()) {
        quad(history_graph, node, "prov:wasAssociatedWith", agent_term(entry.author));
        quad(history_graph, agent_term(entry.author), "rdf:type", term_of("prov:Agent"));
        quad(history_graph, agent_term(entry.author), "rdfs:label", literal_term(entry.author));
    }
}

void RecordQuads::document(const DocumentLine& document) {
    const std::string node = node_name("document", fmt::format("{}:{}", entry_.number, document.name));
    facts(node, "", "Document");
    emit_({term(node), own_term("term", "name"), literal_term(document.name), ""});
    emit_({term(node), own_term("term", "text"), literal_term(document.text), ""});
}

void RecordQuads::record(const Record& record) {
    std::visit([this](const auto& one) { put(one); }, record);
}

namespace {

// All fields of a record, into one graph.
template <class R>
void put_fields(const R& record, const std::string& node, const std::string& graph, const ClaimStates& states,
                const RecordQuads::Emit& emit) {
    const FieldQuads::Put put = [&](std::string subject, std::string predicate, std::string object) {
        emit({std::move(subject), std::move(predicate), std::move(object), graph});
    };
    FieldQuads fields(record_word(&record), node, states, put);
    each_field(record, fields);
}

}  // namespace

void RecordQuads::put(const Entity& entity) {
    const std::string later = version(states_.last_entry("entity", entity.key));
    const std::string node = node_name("thing", entity.key) + later;
    facts(node, things_graph, "Thing");
    put_fields(entity, node, things_graph, states_, emit_);
    if (!later.empty()) return quad(things_graph, term(node), "prov:specializationOf", own_term("thing", entity.key));
    const auto parts = split_key(entity.key);
    if (parts) {
        quad(things_graph, term(node), "crm:P2_has_type", own_term("kind", parts->kind));
        const Kind* kind = vocabulary_.find_kind(parts->kind);
        const std::string category = kind ? term_of(kind->category) : std::string();
        if (!category.empty()) quad(things_graph, term(node), "rdf:type", category);
    }
    for (const Name& name : entity.also) {
        quad(things_graph, term(node), "skos:altLabel",
             is_language_tag(name.language) ? tagged_term(name.text, name.language) : literal_term(name.text));
    }
}

void RecordQuads::put(const Source& source) {
    const std::string later = version(states_.last_entry("source", source.key));
    const std::string node = node_name("citation", source.key) + later;
    facts(node, sources_graph, "Source");
    put_fields(source, node, sources_graph, states_, emit_);
    quad(sources_graph, term(node), "prov:specializationOf", own_term("thing", source.key));
    if (!later.empty()) return;
    for (const Copy& copy : source.copied_from) {
        if (copy.chance == 1) quad(sources_graph, own_term("thing", source.key), "prov:wasDerivedFrom", key_or_words(copy.of));
    }
}

void RecordQuads::belief(const std::string& graph, const std::string& node, const ContentId& about, std::string_view value) {
    quad(graph, node, "rdf:type", term_of("crminf:I2_Belief"));
    quad(graph, node, "crminf:J4_that", claim_graph(about, "assertion"));
    quad(graph, node, "crminf:J5_holds_to_be", own_term("term", value));
}

void RecordQuads::invalidated(const std::string& graph, const std::string& node, const ContentId& id) {
    const std::uint64_t entry = states_.withdrawn_by(id);
    if (entry) quad(graph, node, "prov:wasInvalidatedBy", own_term("entry", std::to_string(entry)));
}

void RecordQuads::put(const Claim& claim) {
    const ContentId id = id_of(claim);
    const std::string later = version(states_.last_entry(id));
    const std::string node = node_name("claim", id.full()) + later;
    const std::string info = claim_graph(id, "pubinfo");
    facts(node, info, "Claim");
    const std::string assertion = claim_graph(id, "assertion");
    put_fields(claim, node + ":proposition", assertion, states_, emit_);
    quad(assertion, term(node + ":proposition"), "rdf:type", term_of("rdf:Statement"));
    if (is_time(entry_.time)) quad(info, term(node), "prov:generatedAtTime", typed_term(entry_.time, xsd("dateTime")));
    agent(info, term(node), entry_.author);
    if (!later.empty()) return quad(info, term(node), "prov:specializationOf", own_term("claim", id.full()));

    const std::string head = claim_graph(id, "head");
    const std::string provenance = claim_graph(id, "provenance");
    quad(head, term(node), "rdf:type", term_of("np:Nanopublication"));
    quad(head, term(node), "np:hasAssertion", assertion);
    quad(head, term(node), "np:hasProvenance", provenance);
    quad(head, term(node), "np:hasPublicationInfo", info);
    const std::string_view status = states_.status(id);
    emit_({term(node), own_term("term", "status"), own_term("term", status), info});
    invalidated(info, term(node), id);
    quad(provenance, assertion, "rdf:type", term_of("crminf:I4_Proposition_Set"));
    belief(provenance, term(node + ":belief"), id, held(status));
    if (status == "asserted") {
        emit_({key_or_words(claim.subject), own_term("relation", claim.relation), value_term(claim.object), assertion});
        const std::string assignment = term(node + ":assignment");
        quad(provenance, assignment, "rdf:type", term_of("crm:E13_Attribute_Assignment"));
        quad(provenance, assignment, "crm:P140_assigned_attribute_to", key_or_words(claim.subject));
        quad(provenance, assignment, "crm:P177_assigned_property_of_type", own_term("relation", claim.relation));
        if (claim.object.type == Value::Type::entity)
            quad(provenance, assignment, "crm:P141_assigned", key_or_words(claim.object.text));
    }
}

void RecordQuads::put(const Evidence& evidence) {
    const ContentId id = id_of(evidence);
    const std::string node = node_name("evidence", id.full()) + version(states_.last_entry(id));
    const std::string graph = claim_graph(evidence.claim, "provenance");
    facts(node, graph, "Evidence");
    put_fields(evidence, node, graph, states_, emit_);
    agent(graph, term(node), evidence.recorded_by);
    invalidated(graph, term(node), id);
    const std::string source = key_or_words(evidence.source);
    if (!evidence.quote.empty()) quad(graph, term(node), "prov:wasQuotedFrom", source);
    if (!states_.stands(id) || evidence.mention) return;
    if (evidence.stance == Stance::against) {
        belief(graph, term(node + ":belief"), evidence.claim, "held-false");
    } else {
        quad(graph, claim_graph(evidence.claim, "assertion"), "prov:wasDerivedFrom", source);
        if (evidence.certainty.empty()) belief(graph, term(node + ":belief"), evidence.claim, "held-true");
        if (evidence.certainty.empty() && states_.status(evidence.claim) == "asserted")
            quad(graph, own_term("claim", evidence.claim.full() + ":assignment"), "crm:P70i_is_documented_in", source);
    }
}

void RecordQuads::put(const Listing& listing) {
    const ContentId id = id_of(listing);
    const std::string node = node_name("list", id.full()) + version(states_.last_entry(id));
    facts(node, lists_graph, "List");
    put_fields(listing, node, lists_graph, states_, emit_);
    agent(lists_graph, term(node), listing.recorded_by);
    invalidated(lists_graph, term(node), id);
}

void RecordQuads::put(const Argument& argument) {
    const ContentId id = id_of(argument);
    const std::string node = node_name("argument", id.full()) + version(states_.last_entry(id));
    const std::string graph = claim_graph(argument.conclusion, "provenance");
    facts(node, graph, "Argument");
    put_fields(argument, node, graph, states_, emit_);
    agent(graph, term(node), argument.recorded_by);
    invalidated(graph, term(node), id);
    quad(graph, term(node), "rdf:type", term_of("crminf:I5_Inference_Making"));
    for (const ContentId& premise : argument.premises)
        quad(graph, term(node), "crminf:J1_used_as_premise", own_term("claim", premise.full() + ":belief"));
    quad(graph, term(node), "crminf:J2_concluded_that", term(node + ":belief"));
    belief(graph, term(node + ":belief"), argument.conclusion, argument.stance == Stance::against ? "held-false" : "held-true");
}

void RecordQuads::put(const Ruling& ruling) {
    const ContentId id = id_of(ruling);
    const std::string node = node_name("ruling", id.full()) + version(states_.last_entry(id));
    const std::string graph = claim_graph(ruling.claim, "provenance");
    facts(node, graph, "Ruling");
    put_fields(ruling, node, graph, states_, emit_);
    agent(graph, term(node), ruling.decided_by);
    invalidated(graph, term(node), id);
    quad(graph, term(node), "rdf:type", term_of("crminf:I5_Inference_Making"));
    quad(graph, term(node), "crminf:J2_concluded_that", term(node + ":belief"));
    belief(graph, term(node + ":belief"), ruling.claim,
           ruling.decision == Ruling::Decision::accepted   ? "held-true"
           : ruling.decision == Ruling::Decision::rejected ? "held-false"
                                                           : "held-open");
}

void RecordQuads::put(const Withdrawal& withdrawal) {
    const std::string node = node_name("withdrawal", fmt::format("{}:{}", entry_.number, order_));
    facts(node, history_graph, "Withdrawal");
    put_fields(withdrawal, node, history_graph, states_, emit_);
}

}  // namespace saggar::rdf
