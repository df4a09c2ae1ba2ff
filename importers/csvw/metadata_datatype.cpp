// Datatypes in metadata: section 5.11 and 6.4.
#include <fmt/format.h>

#include <charconv>

#include "importers/csvw/metadata_reader.h"

namespace saggar::csvw {
namespace {

constexpr std::string_view schema_namespace = "http://www.w3.org/2001/XMLSchema#";

bool is_numeric(TypeGroup group) {
    return group == TypeGroup::integer || group == TypeGroup::decimal || group == TypeGroup::floating;
}
bool has_order(TypeGroup group) {
    return is_numeric(group) || group == TypeGroup::date || group == TypeGroup::duration;
}

std::optional<std::size_t> whole_number(const JsonNode& node) {
    std::size_t number = 0;
    const char* const last = node.text.data() + node.text.size();
    if (!node.is(JsonNode::Type::number)) return std::nullopt;
    const auto [end, bad] = std::from_chars(node.text.data(), last, number);
    return bad == std::errc() && end == last ? std::optional(number) : std::nullopt;
}

}  // namespace

void MetadataReader::read_datatype(const JsonNode& node, Datatype& datatype) {
    if (node.is(JsonNode::Type::string)) {
        const BuiltIn* base = built_in_type(node.text);
        if (base)
            datatype.base = base;
        else
            warn_value(node, "the name of a built-in datatype");
        return;
    }
    if (!node.is(JsonNode::Type::object)) {
        warn_value(node, "the name of a datatype, or an object");
        return;
    }
    if (const JsonNode* base = tree_.member(node, "base")) {
        const BuiltIn* known = base->is(JsonNode::Type::string) ? built_in_type(base->text) : nullptr;
        if (known)
            datatype.base = known;
        else
            warn_value(*base, "the name of a built-in datatype");
    }
    check_id(node);
    const JsonNode* id = tree_.member(node, "@id");
    if (id && id->is(JsonNode::Type::string) && id->text.substr(0, schema_namespace.size()) == schema_namespace &&
        built_in_type(id->text.substr(schema_namespace.size()))) {
        error(*id, "csvw-datatype-id", "a datatype of one's own may not have the URL of a built-in one",
              "give it another @id");
    }
    for (const JsonNode* field = tree_.first(node); field; field = tree_.next(*field)) {
        const std::string_view key = field->key;
        const bool known = key == "base" || key == "format" || key == "@id" || key == "@type" || key == "name" ||
                           key == "length" || key == "minLength" || key == "maxLength" || key == "minimum" ||
                           key == "maximum" || key == "minInclusive" || key == "maxInclusive" ||
                           key == "minExclusive" || key == "maxExclusive";
        if (!known && is_common_name(key)) check_common(*field);
        if (!known && !is_common_name(key))
            warn(*field, fmt::format("\"{}\" is no property of a datatype", key), "check the spelling");
    }
    if (const JsonNode* format = tree_.member(node, "format")) read_format(*format, datatype);
    read_limits(node, datatype);
}

void MetadataReader::read_format(const JsonNode& node, Datatype& datatype) {
    const TypeGroup group = datatype.base->group;
    if (is_numeric(group)) return read_number_format(node, datatype);
    if (!node.is(JsonNode::Type::string)) {
        warn_value(node, "a string");
    } else if (group == TypeGroup::boolean) {
        const std::size_t bar = node.text.find('|');
        if (bar == std::string_view::npos || bar == 0 || bar + 1 == node.text.size() ||
            node.text.find('|', bar + 1) != std::string_view::npos) {
            warn_value(node, "two words with | between them");
            return;
        }
        datatype.true_word = std::string(node.text.substr(0, bar));
        datatype.false_word = std::string(node.text.substr(bar + 1));
    } else if (group == TypeGroup::date) {
        if (is_date_pattern(node.text, datatype.base->date))
            datatype.date_pattern = std::string(node.text);
        else
            warn_value(node, fmt::format("a pattern for {}, for example yyyy-MM-dd", datatype.base->name));
    } else {
        datatype.pattern = Pattern::compile(node.text);
        if (!datatype.pattern) warn_value(node, "a regular expression");
    }
}

void MetadataReader::read_number_format(const JsonNode& node, Datatype& datatype) {
    const JsonNode* pattern = node.is(JsonNode::Type::string) ? &node : nullptr;
    NumberFormat& format = datatype.number;
    if (node.is(JsonNode::Type::object)) {
        for (const JsonNode* field = tree_.first(node); field; field = tree_.next(*field)) {
            if (field->key != "decimalChar" && field->key != "groupChar" && field->key != "pattern") {
                warn(*field, fmt::format("\"{}\" is no property of a number format", field->key),
                     "use decimalChar, groupChar, pattern");
            } else if (!field->is(JsonNode::Type::string) || field->text.empty()) {
                warn_value(*field, "a string");
            } else if (field->key == "decimalChar") {
                format.decimal = std::string(field->text);
            } else if (field->key == "groupChar") {
                format.group = std::string(field->text);
            } else {
                pattern = field;
            }
        }
    } else if (!pattern) {
        warn_value(node, "a number pattern, or an object");
    }
    if (!pattern) return;
    const std::string group = format.group.empty() ? "," : format.group;
    format.pattern = NumberPattern::parse(pattern->text, format.decimal, group);
    if (!format.pattern)
        warn_value(*pattern, "a number pattern with the decimalChar and groupChar given, for example #,##0.00");
    else if (format.pattern->primary_group)
        format.group = group;
}

// Sections 5.11.2: which limits go with which base and with each other.
void MetadataReader::read_limits(const JsonNode& node, Datatype& datatype) {
    const TypeGroup group = datatype.base->group;
    const auto length = [&](std::string_view name, std::optional<std::size_t>& out) {
        const JsonNode* field = tree_.member(node, name);
        if (!field) return;
        if (group != TypeGroup::text && group != TypeGroup::binary) {
            error(*field, "csvw-limit",
                  fmt::format("\"{}\" does not go with the datatype {}", name, datatype.base->name), "take it out");
        } else if (!(out = whole_number(*field))) {
            warn_value(*field, "a whole number");
        }
    };
    length("length", datatype.length);
    length("minLength", datatype.least_length);
    length("maxLength", datatype.most_length);
    if ((datatype.length && datatype.least_length && *datatype.length < *datatype.least_length) ||
        (datatype.length && datatype.most_length && *datatype.length > *datatype.most_length) ||
        (datatype.least_length && datatype.most_length && *datatype.least_length > *datatype.most_length)) {
        error(node, "csvw-limit", "the lengths contradict each other", "mend length, minLength and maxLength");
    }
    const auto bound = [&](std::string_view name, std::optional<long double>& out) {
        const JsonNode* field = tree_.member(node, name);
        if (!field) return;
        if (!has_order(group)) {
            error(*field, "csvw-limit",
                  fmt::format("\"{}\" does not go with the datatype {}", name, datatype.base->name), "take it out");
        } else if (!field->is(JsonNode::Type::string) && !field->is(JsonNode::Type::number)) {
            warn_value(*field, "a number or a date");
        } else if (!(out = order_of_value(field->text, datatype))) {
            warn_value(*field, fmt::format("a value of type {}", datatype.base->name));
        }
    };
    bound("minimum", datatype.least);
    bound("minInclusive", datatype.least);
    bound("maximum", datatype.most);
    bound("maxInclusive", datatype.most);
    bound("minExclusive", datatype.above);
    bound("maxExclusive", datatype.below);
    const auto& [least, most, above, below] = std::tie(datatype.least, datatype.most, datatype.above, datatype.below);
    if ((least && above) || (most && below)) {
        error(node, "csvw-limit", "an inclusive and an exclusive bound on the same side", "keep one of the two");
    } else if ((least && most && *most < *least) || (least && below && *below <= *least) ||
               (above && below && *below < *above) || (above && most && *most <= *above)) {
        error(node, "csvw-limit", "the maximum lies below the minimum", "mend the bounds");
    }
}

}  // namespace saggar::csvw
