// Dialects in metadata: section 5.9.
#include <fmt/format.h>

#include <charconv>

#include "importers/csvw/metadata_reader.h"
#include "kg/model/key.h"

namespace saggar::csvw {

void MetadataReader::read_dialect_object(const JsonNode& node, Table& table) {
    Dialect& dialect = table.dialect;
    check_id(node);
    check_type(node, "Dialect");
    const auto text = [&](const JsonNode& field, std::string& out, bool null_allowed) {
        if (field.is(JsonNode::Type::string))
            out = std::string(field.text);
        else if (null_allowed && field.is(JsonNode::Type::null))
            out.clear();
        else
            warn_value(field, "a string");
    };
    const auto one_sign = [&](const JsonNode& field, std::string& out, bool null_allowed) {
        std::string read = out;
        text(field, read, null_allowed);
        if (read.size() > 1)
            warn_value(field, "one sign of ASCII");
        else
            out = read;
    };
    const auto flag = [&](const JsonNode& field, bool& out) {
        if (field.is(JsonNode::Type::boolean))
            out = field.truth;
        else
            warn_value(field, "true or false");
    };
    const auto count = [&](const JsonNode& field, std::size_t& out) {
        std::size_t number = 0;
        const char* const last = field.text.data() + field.text.size();
        const bool whole =
            field.is(JsonNode::Type::number) && std::from_chars(field.text.data(), last, number).ptr == last;
        if (whole)
            out = number;
        else
            warn_value(field, "a whole number, not negative");
        return whole;
    };
    bool header = true;
    bool initial_space = false;
    std::optional<Trim> trim;
    bool rows_counted = false;
    for (const JsonNode* field = tree_.first(node); field; field = tree_.next(*field)) {
        const std::string_view key = field->key;
        if (key == "commentPrefix") {
            text(*field, dialect.comment_prefix, true);
        } else if (key == "delimiter") {
            one_sign(*field, dialect.delimiter, false);
        } else if (key == "quoteChar") {
            one_sign(*field, dialect.quote, true);
        } else if (key == "doubleQuote") {
            flag(*field, dialect.double_quote);
        } else if (key == "header") {
            flag(*field, header);
        } else if (key == "headerRowCount") {
            rows_counted = count(*field, dialect.header_rows);
        } else if (key == "skipRows") {
            count(*field, dialect.skip_rows);
        } else if (key == "skipColumns") {
            count(*field, dialect.skip_columns);
        } else if (key == "skipBlankRows") {
            flag(*field, dialect.skip_blank_rows);
        } else if (key == "skipInitialSpace") {
            flag(*field, initial_space);
        } else if (key == "trim") {
            if (field->is(JsonNode::Type::boolean))
                trim = field->truth ? Trim::both : Trim::none;
            else if (field->text == "true")
                trim = Trim::both;
            else if (field->text == "false")
                trim = Trim::none;
            else if (field->text == "start")
                trim = Trim::start;
            else if (field->text == "end")
                trim = Trim::end;
            else
                warn_value(*field, "true, false, start or end");
        } else if (key == "encoding") {
            const std::string name = field->is(JsonNode::Type::string) ? fold(field->text) : std::string();
            if (name != "utf-8" && name != "utf8" && name != "us-ascii" && name != "windows-1252" &&
                name != "iso-8859-1") {
                warn_value(*field, "utf-8, windows-1252 or iso-8859-1");
            }
        } else if (key == "lineTerminators") {
            if (!field->is(JsonNode::Type::string) && !field->is(JsonNode::Type::array))
                warn_value(*field, "a string, or an array of them");
            bool usual = !field->is(JsonNode::Type::string) || field->text == "\r\n" || field->text == "\n";
            for (const JsonNode* one = field->is(JsonNode::Type::array) ? tree_.first(*field) : nullptr; one; one = tree_.next(*one))
                usual = usual && (one->text == "\r\n" || one->text == "\n");
            if (!usual) unused(*field, "lines end with LF or CR LF");
        } else if (key != "@id" && key != "@type" && key != "@context") {
            if (is_common_name(key))
                check_common(*field);
            else
                warn(*field, fmt::format("\"{}\" is no property of a dialect", key), "check the spelling");
        }
    }
    if (!rows_counted && !header) dialect.header_rows = 0;
    dialect.trim = trim.value_or(initial_space ? Trim::start : Trim::none);
}

}  // namespace saggar::csvw
