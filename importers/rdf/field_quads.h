// The fields of a record as quads: a visitor for each_field (kg/model/record_fields.h).
//
// Texts become literals, keys the things they name, EDTF dates typed literals, names literals with a language, lists of names and
// identifiers nodes of their own with their place in the list. own_records.h reads them back.
#pragma once

#include <functional>
#include <string>
#include <string_view>

#include "importers/rdf/claim_states.h"
#include "importers/rdf/own_names.h"
#include "kg/model/record_fields.h"

namespace saggar::rdf {

class FieldQuads {
public:
    using Put = std::function<void(std::string subject, std::string predicate, std::string object)>;

    // `word`: the record's; `node`: the IRI it stands under, without brackets.
    FieldQuads(std::string_view word, std::string node, const ClaimStates& states, const Put& put)
        : word_(word), node_(std::move(node)), states_(states), put_(put) {}

    void operator()(std::string_view name, const std::string& text, Need);
    void operator()(std::string_view name, bool flag, Need);
    void operator()(std::string_view name, double number, Need);
    void operator()(std::string_view name, const std::optional<double>& number, Need need);
    void operator()(std::string_view name, const std::optional<int>& number, Need);
    void operator()(std::string_view name, const ContentId& id, Need);
    void operator()(std::string_view name, const std::vector<ContentId>& ids, Need need);
    void operator()(std::string_view name, Stance stance, Need);
    void operator()(std::string_view name, Ruling::Decision decision, Need);
    void operator()(std::string_view name, const Name& label, Need);
    void operator()(std::string_view name, const std::vector<Name>& names, Need);
    void operator()(std::string_view name, const std::vector<std::string>& texts, Need);
    void operator()(std::string_view name, const std::vector<Copy>& copies, Need);
    void operator()(std::string_view name, const std::vector<std::pair<std::string, std::string>>& pairs, Need);
    void operator()(std::string_view name, const Value& value, Need);
    template <class R>
    void own_id(const R&) {}  // the node's IRI holds it

private:
    void put(std::string_view field, std::string object);
    void put_at(const std::string& sub, std::string predicate, std::string object);
    void name_parts(const std::string& sub, const Name& name);

    std::string_view word_;
    std::string node_;
    const ClaimStates& states_;
    const Put& put_;
};

// A number as xsd:decimal where it is written so, as xsd:double where it has an exponent.
std::string number_term(std::string_view text);
// The object of a claim as a term; without the unit.
std::string value_term(const Value& value);

}  // namespace saggar::rdf
