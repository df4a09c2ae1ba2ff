#include "queries/cite_csl.h"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

namespace saggar {

namespace {

using nlohmann::json;

// Nothing (null) where the text is no JSON array or object. Values come from a reader that has bounded their depth.
json parsed(std::string_view value) {
    if (value.empty() || (value.front() != '[' && value.front() != '{')) return nullptr;
    auto document = json::parse(value, nullptr, false);
    return document.is_discarded() ? json(nullptr) : document;
}

std::string text_at(const json& object, const char* key) {
    const auto found = object.find(key);
    return found != object.end() && found->is_string() ? found->get<std::string>() : std::string();
}

// Numbers may be written as texts.
long number_in(const json& value) {
    if (value.is_number_integer()) return value.get<long>();
    if (value.is_string()) return std::atol(value.get_ref<const std::string&>().c_str());
    return 0;
}

std::string one_date(const json& parts) {
    std::string out;
    if (!parts.is_array()) return out;
    for (std::size_t i = 0; i < parts.size() && i < 3; ++i) {
        const long n = number_in(parts[i]);
        if (n <= 0) break;
        out += i == 0 ? fmt::format("{:04}", n) : fmt::format("-{:02}", n);
    }
    return out;
}

bool is_true(const json& object, const char* key) {
    const auto found = object.find(key);
    if (found == object.end()) return false;
    return found->is_boolean() ? found->get<bool>() : !found->is_null() && *found != json(0) && *found != json("");
}

}  // namespace

std::vector<CitedName> csl_names(std::string_view value) {
    const auto document = parsed(value);
    if (!document.is_array()) return read_names(value);
    std::vector<CitedName> names;
    for (const auto& name : document) {
        if (!name.is_object()) continue;
        CitedName read;
        read.family = text_at(name, "literal");
        if (read.family.empty()) {
            read.family = text_at(name, "family");
            read.given = text_at(name, "given");
            if (const auto particle = text_at(name, "non-dropping-particle"); !particle.empty())
                read.family = particle + " " + read.family;
        }
        if (!read.family.empty()) names.push_back(std::move(read));
    }
    return names;
}

std::string csl_date(std::string_view value) {
    const auto document = parsed(value);
    if (!document.is_object()) return std::string(value);
    const auto parts = document.find("date-parts");
    if (parts == document.end() || !parts->is_array() || parts->empty()) {
        for (const char* key : {"edtf", "raw", "literal"}) {
            if (const auto text = text_at(document, key); !text.empty()) return text;
        }
        return {};
    }
    std::string out = one_date((*parts)[0]);
    if (is_true(document, "circa")) out += "~";
    if (parts->size() > 1) out += "/" + one_date((*parts)[1]);
    return out;
}

}  // namespace saggar
