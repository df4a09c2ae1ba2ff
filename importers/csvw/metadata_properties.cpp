// Properties that may stand on any description: inherited ones, common ones, our annotations, @id and @type.
#include <fmt/format.h>

#include <algorithm>

#include "importers/csvw/language.h"
#include "importers/csvw/metadata_reader.h"

namespace saggar::csvw {
namespace {

// The prefixes of the CSVW context (http://www.w3.org/ns/csvw), which are those of the RDFa initial context and csvw.
constexpr std::string_view known_prefixes[] = {
    "as",      "cat",  "cc",    "cnt",  "csvw",  "ctag", "dc",   "dc11", "dcat", "dcterms", "doap", "duv",  "dqv",
    "dctypes", "earl", "foaf",  "gr",   "grddl", "ht",   "ical", "ma",   "oa",   "og",      "org",  "owl",  "pointers",
    "prov",    "ptr",  "qb",    "rdf",  "rdfa",  "rdfs", "rev",  "rif",  "rr",   "schema",  "sd",   "sioc", "skos",
    "skosxl",  "v",    "vcard", "void", "wdr",   "wdrs", "wot",  "xhv",  "xml",  "xsd"};

constexpr std::string_view own_prefix = "saggar:";
constexpr std::string_view own_templates[] = {"at",          "certainty", "label",  "other-roles", "proposed", "quote",
                                              "recorded_by", "recorded_on", "remark", "role",      "scope",    "source",
                                              "stance",      "unit",      "unreadable", "value",   "when"};

bool is_absolute_url(std::string_view text) {
    const std::size_t colon = text.find(':');
    if (colon == std::string_view::npos || colon == 0) return false;
    const auto letter = [](char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); };
    return letter(text.front()) &&
           std::all_of(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(colon),
                       [&](char c) { return letter(c) || (c >= '0' && c <= '9') || c == '+' || c == '-' || c == '.'; });
}

bool is_prefixed(std::string_view text) {
    const std::string_view prefix = text.substr(0, text.find(':'));
    return prefix.size() < text.size() &&
           std::find(std::begin(known_prefixes), std::end(known_prefixes), prefix) != std::end(known_prefixes);
}

bool is_class_of_csvw(std::string_view name) {
    for (const std::string_view known :
         {"TableGroup", "Table", "Schema", "Column", "Dialect", "Transformation", "Template", "Datatype", "Cell", "Row",
          "TableReference", "ForeignKey", "NumericFormat", "Direction"}) {
        if (name == known) return true;
    }
    return false;
}

}  // namespace

bool is_language_tag(std::string_view text) { return text.size() > 1 && is_language(text); }

bool is_common_name(std::string_view name) {
    return is_prefixed(name) || (is_absolute_url(name) && name.substr(0, 2) != "_:");
}

bool MetadataReader::error(const JsonNode& node, std::string id, std::string message, std::string next) {
    good_ = false;
    problems_.add({std::move(id), Severity::error, place(node), std::move(message), std::move(next)});
    return false;
}

bool MetadataReader::warn(const JsonNode& node, std::string message, std::string next) {
    problems_.add({"csvw-ignored", Severity::warning, place(node), std::move(message), std::move(next)});
    return false;
}

bool MetadataReader::warn_value(const JsonNode& node, std::string_view wanted) {
    return warn(node,
                fmt::format("{} is passed over: {} is wanted",
                            node.key.empty() ? "this" : fmt::format("\"{}\"", node.key), wanted),
                "change the value");
}

void MetadataReader::unused(const JsonNode& node, const char* why) {
    const auto known = std::any_of(unused_.begin(), unused_.end(), [&](const UnusedProperty& one) { return one.name == node.key; });
    if (!known) unused_.push_back({std::string(node.key), why, place(node)});
}

bool MetadataReader::check_id(const JsonNode& object) {
    const JsonNode* id = tree_.member(object, "@id");
    if (!id) return true;
    if (!id->is(JsonNode::Type::string)) return warn_value(*id, "a string");
    if (id->text.substr(0, 2) == "_:") {
        return error(*id, "csvw-blank-node", fmt::format("\"{}\" is a blank node", id->text), "give @id a URL");
    }
    return true;
}

bool MetadataReader::check_type(const JsonNode& object, std::string_view type) {
    const JsonNode* node = tree_.member(object, "@type");
    if (!node || (node->is(JsonNode::Type::string) && node->text == type)) return true;
    return error(*node, "csvw-wrong-type", fmt::format("the @type here is {}", type), "change it, or leave it out");
}

void MetadataReader::read_properties(const JsonNode& object, std::initializer_list<std::string_view> others,
                                     CellRules& rules) {
    for (const JsonNode* node = tree_.first(object); node; node = tree_.next(*node)) {
        if (node->key == "notes") unused(*node, "notes are not kept");
        if (node->key == "tableDirection") unused(*node, "how a table is shown is not kept");
        if (node->key == "rowTitles") unused(*node, "rows get no titles; a thing gets its label by field:label");
        if (node->key == "transformations") unused(*node, "no transformation is run");
        if (node->key.substr(0, own_prefix.size()) == own_prefix) {
            read_own(*node, rules);
        } else if (std::find(others.begin(), others.end(), node->key) != others.end() || node->key == "@id" ||
                   node->key == "@type") {
            continue;
        } else if (read_inherited(*node, rules)) {
            continue;
        } else if (is_common_name(node->key)) {
            check_common(*node);
        } else {
            warn(*node, fmt::format("\"{}\" is no property here", node->key), "check the spelling and the place");
        }
    }
}

// Section 5.7. True where the property is an inherited one, whatever its value.
bool MetadataReader::read_inherited(const JsonNode& node, CellRules& rules) {
    const bool text = node.is(JsonNode::Type::string);
    if (node.key == "aboutUrl") {
        read_template(node, rules.about_url);
    } else if (node.key == "propertyUrl") {
        read_template(node, rules.property_url);
    } else if (node.key == "valueUrl") {
        read_template(node, rules.value_url);
    } else if (node.key == "datatype") {
        rules.datatype = Datatype();
        read_datatype(node, rules.datatype);
    } else if (node.key == "default") {
        if (text)
            rules.default_text = std::string(node.text);
        else
            warn_value(node, "a string");
    } else if (node.key == "lang") {
        if (text && is_language_tag(node.text))
            rules.language = std::string(node.text);
        else
            warn_value(node, "a language tag");
    } else if (node.key == "null") {
        if (text) {
            rules.nulls = {std::string(node.text)};
        } else if (node.is(JsonNode::Type::array)) {
            rules.nulls.clear();
            for (const JsonNode* one = tree_.first(node); one; one = tree_.next(*one)) {
                if (one->is(JsonNode::Type::string))
                    rules.nulls.emplace_back(one->text);
                else
                    warn_value(*one, "a string");
            }
        } else {
            warn_value(node, "a string, or an array of them");
        }
    } else if (node.key == "ordered" || node.key == "required") {
        if (!node.is(JsonNode::Type::boolean))
            warn_value(node, "true or false");
        else if (node.key == "required")
            rules.required = node.truth;
        else if (node.truth)
            unused(node, "the values of a list become claims, which have no order");
    } else if (node.key == "separator") {
        if (text && !node.text.empty())
            rules.separator = std::string(node.text);
        else if (!node.is(JsonNode::Type::null))
            warn_value(node, "a string");
    } else if (node.key == "textDirection") {
        if (!text || (node.text != "ltr" && node.text != "rtl" && node.text != "auto" && node.text != "inherit")) {
            warn_value(node, "ltr, rtl, auto or inherit");
        } else {
            unused(node, "how a text is shown is not kept");
        }
    } else {
        return false;
    }
    return true;
}

void MetadataReader::read_template(const JsonNode& node, std::optional<UriTemplate>& out) {
    if (!node.is(JsonNode::Type::string)) {
        warn_value(node, "a URI template");
        return;
    }
    std::string why;
    auto parsed = UriTemplate::parse(node.text, why);
    if (parsed)
        out = std::move(*parsed);
    else
        error(node, "csvw-template", fmt::format("\"{}\" is no URI template: {}", node.text, why),
              "write for example piece:{number}");
}

void MetadataReader::read_own(const JsonNode& node, CellRules& rules) {
    const std::string_view name = node.key.substr(own_prefix.size());
    if (name == "roles") {
        rules.roles = read_role_words(node);
    } else if (name == "phases") {
        rules.phases = read_role_words(node);
    } else if (std::find(std::begin(own_templates), std::end(own_templates), name) == std::end(own_templates)) {
        error(node, "csvw-unknown-annotation", fmt::format("there is no annotation \"{}\"", node.key),
              fmt::format("ours are saggar: with roles, phases, {}", fmt::join(own_templates, ", ")));
    } else if (!node.is(JsonNode::Type::string)) {
        error(node, "csvw-wrong-type", fmt::format("\"{}\" is {}; a string is wanted", node.key, name_of(node.type)),
              "change the value");
    } else {
        rules.own[std::string(name)] = std::string(node.text);
    }
}

std::vector<RoleWord> MetadataReader::read_role_words(const JsonNode& node) {
    std::vector<RoleWord> words;
    if (!node.is(JsonNode::Type::array)) {
        error(node, "csvw-wrong-type", fmt::format("\"{}\" is an array of objects", node.key),
              R"(write [{"saggar:word": ..., "saggar:relation": ...}])");
        return words;
    }
    for (const JsonNode* one = tree_.first(node); one; one = tree_.next(*one)) {
        RoleWord word;
        bool known = one->is(JsonNode::Type::object) && tree_.member(*one, "saggar:word");
        for (const JsonNode* field = known ? tree_.first(*one) : nullptr; field; field = tree_.next(*field)) {
            std::string* const target = field->key == "saggar:word"        ? &word.word
                                        : field->key == "saggar:relation"  ? &word.relation
                                        : field->key == "saggar:certainty" ? &word.certainty
                                        : field->key == "saggar:stance"    ? &word.stance
                                                                           : nullptr;
            known = known && target && field->is(JsonNode::Type::string);
            if (known) *target = std::string(field->text);
        }
        if (known) {
            words.push_back(std::move(word));
        } else {
            error(
                *one, "csvw-role-word", "this is no entry of a look-up",
                R"(write {"saggar:word": ..., "saggar:relation": ..., "saggar:certainty": ..., "saggar:stance": ...})");
        }
    }
    return words;
}

// Section 5.8 and 6.1: common properties hold JSON-LD without contexts, lists, sets and blank nodes.
bool MetadataReader::check_common(const JsonNode& value) {
    if (value.is(JsonNode::Type::array)) {
        for (const JsonNode* one = tree_.first(value); one; one = tree_.next(*one)) {
            if (!check_common(*one)) return false;
        }
        return true;
    }
    if (!value.is(JsonNode::Type::object)) return true;
    if (const JsonNode* inner = tree_.member(value, "@value")) return check_value_object(value, *inner);
    for (const JsonNode* field = tree_.first(value); field; field = tree_.next(*field)) {
        if (field->key == "@id") {
            if (!field->is(JsonNode::Type::string) || field->text.substr(0, 2) == "_:") {
                return error(*field, "csvw-blank-node", "an @id is a URL, and no blank node", "give it a URL");
            }
        } else if (field->key == "@type") {
            if (!check_type_value(*field, false)) return false;
        } else if (!field->key.empty() && field->key.front() == '@') {
            return error(*field, "csvw-keyword", fmt::format("\"{}\" may not stand here", field->key),
                         "of the keywords only @value, @type, @language and @id may be used");
        } else if (!is_common_name(field->key)) {
            return error(*field, "csvw-common-name", fmt::format("\"{}\" is no prefixed name and no URL", field->key),
                         "use a prefix of the CSVW context, or a full URL");
        } else if (!check_common(*field)) {
            return false;
        }
    }
    return true;
}

bool MetadataReader::check_value_object(const JsonNode& object, const JsonNode& value) {
    const JsonNode* type = tree_.member(object, "@type");
    const JsonNode* language = tree_.member(object, "@language");
    if (object.count > 2 || (object.count == 2 && !type && !language)) {
        return error(object, "csvw-value-object",
                     "an object with @value may hold @type or @language besides, and nothing else",
                     "take the other members out");
    }
    if (value.is(JsonNode::Type::object) || value.is(JsonNode::Type::array) || value.is(JsonNode::Type::null)) {
        return error(value, "csvw-value-object", "a @value is a string, a number or a boolean", "change it");
    }
    if (language && !language->is(JsonNode::Type::null) &&
        (!language->is(JsonNode::Type::string) || !is_language_tag(language->text))) {
        return error(*language, "csvw-language", "this is no language tag", "use a tag of BCP 47, for example en");
    }
    return !type || check_type_value(*type, true);
}

bool MetadataReader::check_type_value(const JsonNode& type, bool of_value) {
    if (type.is(JsonNode::Type::array) && !of_value) {
        for (const JsonNode* one = tree_.first(type); one; one = tree_.next(*one)) {
            if (!check_type_value(*one, of_value)) return false;
        }
        return true;
    }
    const bool good = type.is(JsonNode::Type::string) && (is_common_name(type.text) || built_in_type(type.text) ||
                                                          (!of_value && is_class_of_csvw(type.text)));
    return good || error(type, "csvw-type-value", "this is no type",
                         "use a term of the CSVW context, a prefixed name with one of its prefixes, or a full URL");
}

}  // namespace saggar::csvw
