#include "importers/rdf/own_names.h"

#include <embedded/rdf_context.h>
#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "kg/model/key.h"

namespace saggar::rdf {
namespace {

struct Exact {
    std::string_view word;  // empty: any record
    std::string_view field;
    std::string_view curie;
};

// Fields that a published term says exactly.
constexpr Exact exact_terms[] = {
    {"entity", "label", "rdfs:label"},
    {"entity", "remark", "crm:P3_has_note"},
    {"source", "title", "dcterms:title"},
    {"source", "issued", "dcterms:issued"},
    {"claim", "subject", "rdf:subject"},
    {"claim", "relation", "rdf:predicate"},
    {"claim", "object", "rdf:object"},
    {"evidence", "source", "prov:hadPrimarySource"},
    {"evidence", "corrects", "prov:wasRevisionOf"},
    {"evidence", "remark", "crm:P3_has_note"},
    {"list", "remark", "crm:P3_has_note"},
    {"ruling", "decided_on", "dcterms:date"},
    {"", "recorded_on", "dcterms:created"},
};

bool fits(const Exact& exact, std::string_view word) { return exact.word.empty() || exact.word == word; }

// What the agent's name needs to stand in a URN.
std::string percent_encoded(std::string_view text) {
    std::string out;
    for (const char sign : text) {
        const bool plain = (sign >= 'a' && sign <= 'z') || (sign >= 'A' && sign <= 'Z') || (sign >= '0' && sign <= '9') ||
                           sign == '-' || sign == '.' || sign == '_';
        out += plain ? std::string(1, sign) : fmt::format("%{:02X}", static_cast<unsigned char>(sign));
    }
    return out;
}

}  // namespace

const std::string& context_document() {
    static const std::string text(embedded::rdf_context);
    return text;
}

const std::vector<std::pair<std::string, std::string>>& prefixes() {
    static const std::vector<std::pair<std::string, std::string>> list = [] {
        std::vector<std::pair<std::string, std::string>> read;
        const auto document = nlohmann::ordered_json::parse(context_document());
        for (const auto& [name, iri] : document["@context"].items()) {
            if (iri.is_string()) read.emplace_back(name, iri.get<std::string>());
        }
        return read;
    }();
    return list;
}

std::string term_of(std::string_view curie) {
    const std::size_t colon = curie.find(':');
    for (const auto& [name, iri] : prefixes()) {
        if (colon == name.size() && curie.substr(0, colon) == name)
            return "<" + iri + std::string(curie.substr(colon + 1)) + ">";
    }
    return {};
}

std::string own_term(std::string_view space, std::string_view name) {
    std::string term = "<";
    term += own_space;
    term += space;
    term += ':';
    term += name;
    term += '>';
    return term;
}

std::optional<std::string_view> own_name(std::string_view term, std::string_view space) {
    const std::size_t head = 1 + own_space.size() + space.size() + 1;
    if (term.size() <= head || term.substr(1, own_space.size()) != own_space ||
        term.substr(1 + own_space.size(), space.size()) != space || term[head - 1] != ':')
        return std::nullopt;
    return term.substr(head, term.size() - head - 1);
}

std::string key_or_words(std::string_view key) { return is_key(key) ? own_term("thing", key) : literal_term(key); }

std::string agent_term(std::string_view name) { return own_term("agent", percent_encoded(name)); }

std::string edtf_term(std::string_view text) { return typed_term(text, edtf_datatype); }

std::string field_predicate(std::string_view word, std::string_view field) {
    for (const Exact& exact : exact_terms) {
        if (fits(exact, word) && exact.field == field) return term_of(exact.curie);
    }
    return own_term("term", field);
}

std::string field_of_predicate(std::string_view word, std::string_view predicate) {
    if (const auto own = own_name(predicate, "term")) return std::string(*own);
    for (const Exact& exact : exact_terms) {
        if (fits(exact, word) && term_of(exact.curie) == predicate) return std::string(exact.field);
    }
    return {};
}

}  // namespace saggar::rdf
