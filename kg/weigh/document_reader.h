// Strict reading of a hand-written JSON document, shared by the profile and the rules.
//
// Every problem names the JSON Pointer (RFC 6901) of what is wrong, points at it, and says what to do. The ids of the
// problems begin with the document's word ("profile-unknown-field").
#pragma once

#include <initializer_list>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "kg/model/json_document.h"
#include "kg/model/problem.h"

namespace saggar {

class DocumentReader {
public:
    using json = nlohmann::json;

    // Keeps both references. `word` begins every problem's id.
    DocumentReader(const JsonDocument& document, Problems& problems, std::string word)
        : document_(document), problems_(problems), word_(std::move(word)) {}

    const json& root() const { return document_.root(); }
    std::size_t errors() const { return problems_.errors(); }

    void at_value(const char* id, const std::string& pointer, const std::string& message, std::string next);
    void at_key(const char* id, const std::string& pointer, const std::string& message, std::string next);

    bool is(const json& value, json::value_t type, const std::string& pointer, const char* wanted);
    // Complains of every member that is not named.
    void only_fields(const json& object, const std::string& pointer, std::initializer_list<const char*> allowed);

    // The member of that type, or null; with a problem where it is missing (and required) or of another type.
    const json* member(const json& object, const std::string& pointer, const char* field, json::value_t type,
                       const char* wanted, bool required);
    std::string text(const json& object, const std::string& pointer, const char* field, bool required);
    bool flag(const json& object, const std::string& pointer, const char* field);
    // A number from `least` to `most`; `missing` where it is not there and not required.
    double number(const json& object, const std::string& pointer, const char* field, double least, double most,
                  bool required, double missing = 0);
    bool number_within(const json& value, const std::string& pointer, double least, double most);

private:
    void add(const char* id, Place place, const std::string& pointer, const std::string& message, std::string next);

    const JsonDocument& document_;
    Problems& problems_;
    std::string word_;
};

}  // namespace saggar
