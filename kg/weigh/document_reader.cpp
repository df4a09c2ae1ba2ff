#include "kg/weigh/document_reader.h"

#include <fmt/format.h>

#include <algorithm>

#include "kg/model/nearest.h"
#include "kg/model/vocabulary.h"

namespace saggar {

void DocumentReader::add(const char* id, Place place, const std::string& pointer, const std::string& message,
                         std::string next) {
    Problem problem;
    problem.id = word_ + "-" + id;
    problem.place = std::move(place);
    problem.message = fmt::format("{}: {}", pointer.empty() ? "the document" : pointer, message);
    problem.next_step = std::move(next);
    problems_.add(std::move(problem));
}

void DocumentReader::at_value(const char* id, const std::string& pointer, const std::string& message, std::string next) {
    add(id, document_.place_of_value(pointer), pointer, message, std::move(next));
}

void DocumentReader::at_key(const char* id, const std::string& pointer, const std::string& message, std::string next) {
    add(id, document_.place_of_key(pointer), pointer, message, std::move(next));
}

bool DocumentReader::is(const json& value, json::value_t type, const std::string& pointer, const char* wanted) {
    const bool both_numbers = type == json::value_t::number_float && value.is_number();
    if (value.type() == type || both_numbers) return true;
    at_value("wrong-type", pointer, fmt::format("expected {}, found {}", wanted, value.type_name()),
             fmt::format("write {} here", wanted));
    return false;
}

void DocumentReader::only_fields(const json& object, const std::string& pointer,
                                 std::initializer_list<const char*> allowed) {
    const std::vector<std::string> names(allowed.begin(), allowed.end());
    for (const auto& item : object.items()) {
        if (std::find(names.begin(), names.end(), item.key()) != names.end()) continue;
        at_key("unknown-field", JsonDocument::child(pointer, item.key()),
               fmt::format("unknown field \"{}\"{}", item.key(), Vocabulary::suggestion(nearest_word(item.key(), names))),
               fmt::format("use one of: {}", fmt::join(names, ", ")));
    }
}

const DocumentReader::json* DocumentReader::member(const json& object, const std::string& pointer, const char* field,
                                                   json::value_t type, const char* wanted, bool required) {
    const auto found = object.find(field);
    if (found != object.end()) {
        return is(*found, type, JsonDocument::child(pointer, field), wanted) ? &*found : nullptr;
    }
    if (required) {
        at_value("missing-field", pointer, fmt::format("\"{}\" is missing", field),
                 fmt::format("add \"{}\" with {}", field, wanted));
    }
    return nullptr;
}

std::string DocumentReader::text(const json& object, const std::string& pointer, const char* field, bool required) {
    const json* const found = member(object, pointer, field, json::value_t::string, "a text", required);
    if (!found) return {};
    if (required && found->get_ref<const std::string&>().empty()) {
        at_value("missing-field", JsonDocument::child(pointer, field), fmt::format("\"{}\" is empty", field),
                 "write a text here");
    }
    return found->get<std::string>();
}

bool DocumentReader::flag(const json& object, const std::string& pointer, const char* field) {
    const json* const found = member(object, pointer, field, json::value_t::boolean, "true or false", false);
    return found && found->get<bool>();
}

double DocumentReader::number(const json& object, const std::string& pointer, const char* field, double least,
                              double most, bool required, double missing) {
    const json* const found = member(object, pointer, field, json::value_t::number_float, "a number", required);
    if (!found || !number_within(*found, JsonDocument::child(pointer, field), least, most)) return missing;
    return found->get<double>();
}

bool DocumentReader::number_within(const json& value, const std::string& pointer, double least, double most) {
    if (!is(value, json::value_t::number_float, pointer, "a number")) return false;
    const double number = value.get<double>();
    if (number >= least && number <= most) return true;
    at_value("number-out-of-range", pointer, fmt::format("{} is not between {} and {}", value.dump(), least, most),
             fmt::format("write a number from {} to {}", least, most));
    return false;
}

}  // namespace saggar
