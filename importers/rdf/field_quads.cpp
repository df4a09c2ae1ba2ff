#include "importers/rdf/field_quads.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>

#include "kg/model/key.h"

namespace saggar::rdf {
namespace {

constexpr std::string_view edtf_fields[] = {"when", "issued", "recorded_on", "decided_on"};
constexpr std::string_view key_fields[] = {"subject", "source", "scope"};

template <std::size_t N>
bool one_of(const std::string_view (&words)[N], std::string_view word) {
    return std::find(std::begin(words), std::end(words), word) != std::end(words);
}

// The shortest decimal that reads back as the same number.
std::string decimal_term(double number) {
    std::array<char, 400> text{};
    const auto end = std::to_chars(text.data(), text.data() + text.size(), number, std::chars_format::fixed).ptr;
    return typed_term(std::string_view(text.data(), static_cast<std::size_t>(end - text.data())), xsd("decimal"));
}

}  // namespace

std::string number_term(std::string_view text) {
    return typed_term(text, xsd(text.find_first_of("eE") == std::string_view::npos ? "decimal" : "double"));
}

std::string value_term(const Value& value) {
    switch (value.type) {
        case Value::Type::entity: return key_or_words(value.text);
        case Value::Type::number: return number_term(value.text);
        case Value::Type::date: return edtf_term(value.text);
        case Value::Type::text: break;
    }
    return literal_term(value.text);
}

void FieldQuads::put_at(const std::string& sub, std::string predicate, std::string object) {
    put_("<" + node_ + sub + ">", std::move(predicate), std::move(object));
}

void FieldQuads::put(std::string_view field, std::string object) { put_at("", field_predicate(word_, field), std::move(object)); }

void FieldQuads::operator()(std::string_view name, const std::string& text, Need) {
    if (text.empty()) return;
    if (one_of(edtf_fields, name)) return put(name, edtf_term(text));
    if (one_of(key_fields, name)) return put(name, key_or_words(text));
    if (name == "relation") return put(name, own_term("relation", text));
    put(name, literal_term(text));
}

void FieldQuads::operator()(std::string_view name, bool flag, Need) {
    if (flag) put(name, typed_term("true", xsd("boolean")));
}

void FieldQuads::operator()(std::string_view name, double number, Need) { put(name, decimal_term(number)); }

void FieldQuads::operator()(std::string_view name, const std::optional<double>& number, Need need) {
    if (number) (*this)(name, *number, need);
}

void FieldQuads::operator()(std::string_view name, const std::optional<int>& number, Need) {
    if (number) put(name, typed_term(std::to_string(*number), xsd("integer")));
}

void FieldQuads::operator()(std::string_view name, const ContentId& id, Need) {
    if (!id.empty()) put(name, own_term(name == "corrects" ? "evidence" : states_.word_of(id), id.full()));
}

void FieldQuads::operator()(std::string_view name, const std::vector<ContentId>& ids, Need need) {
    for (const ContentId& id : ids) (*this)(name, id, need);
}

void FieldQuads::operator()(std::string_view name, Stance stance, Need) {
    put(name, own_term("term", stance == Stance::against ? "against" : "for"));
}

void FieldQuads::operator()(std::string_view name, Ruling::Decision decision, Need) {
    put(name, own_term("term", decision == Ruling::Decision::accepted   ? "accepted"
                               : decision == Ruling::Decision::rejected ? "rejected"
                                                                        : "left-open"));
}

void FieldQuads::operator()(std::string_view name, const Name& label, Need) {
    if (label == Name()) return;
    const bool tagged = is_language_tag(label.language);
    put(name, tagged ? tagged_term(label.text, label.language) : literal_term(label.text));
    if (!tagged && !label.language.empty()) put_at("", own_term("term", "language"), literal_term(label.language));
}

void FieldQuads::name_parts(const std::string& sub, const Name& name) {
    const bool tagged = is_language_tag(name.language);
    put_at(sub, term_of("crm:P190_has_symbolic_content"),
           tagged ? tagged_term(name.text, name.language) : literal_term(name.text));
    if (!tagged && !name.language.empty()) put_at(sub, own_term("term", "language"), literal_term(name.language));
}

void FieldQuads::operator()(std::string_view, const std::vector<Name>& names, Need) {
    for (std::size_t i = 0; i < names.size(); ++i) {
        const std::string sub = fmt::format(":name:{}", i + 1);
        put_at("", term_of("crm:P1_is_identified_by"), "<" + node_ + sub + ">");
        put_at(sub, term_of("rdf:type"), term_of("crm:E41_Appellation"));
        name_parts(sub, names[i]);
    }
}

void FieldQuads::operator()(std::string_view, const std::vector<std::string>& texts, Need) {
    for (std::size_t i = 0; i < texts.size(); ++i) {
        const std::string sub = fmt::format(":identifier:{}", i + 1);
        put_at("", term_of("crm:P1_is_identified_by"), "<" + node_ + sub + ">");
        put_at(sub, term_of("rdf:type"), term_of("crm:E42_Identifier"));
        put_at(sub, term_of("crm:P190_has_symbolic_content"), literal_term(texts[i]));
    }
}

void FieldQuads::operator()(std::string_view, const std::vector<Copy>& copies, Need) {
    for (std::size_t i = 0; i < copies.size(); ++i) {
        const std::string sub = fmt::format(":copying:{}", i + 1);
        put_at("", term_of("prov:qualifiedDerivation"), "<" + node_ + sub + ">");
        put_at(sub, term_of("rdf:type"), term_of("prov:Derivation"));
        put_at(sub, term_of("prov:entity"), key_or_words(copies[i].of));
        put_at(sub, own_term("term", "chance"), decimal_term(copies[i].chance));
        put_at(sub, own_term("term", "fidelity"), decimal_term(copies[i].fidelity));
    }
}

void FieldQuads::operator()(std::string_view, const std::vector<std::pair<std::string, std::string>>& pairs, Need) {
    for (std::size_t i = 0; i < pairs.size(); ++i) {
        const std::string sub = fmt::format(":field:{}", i + 1);
        put_at("", own_term("term", "further-field"), "<" + node_ + sub + ">");
        put_at(sub, own_term("term", "name"), literal_term(pairs[i].first));
        put_at(sub, own_term("term", "text"), literal_term(pairs[i].second));
    }
}

void FieldQuads::operator()(std::string_view name, const Value& value, Need) {
    put(name, value_term(value));
    if (!value.unit.empty()) put_at("", own_term("term", "unit"), literal_term(value.unit));
}

}  // namespace saggar::rdf
