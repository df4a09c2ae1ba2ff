// Answers as JSON: one document, sorted members, two blanks of indent, a line end.
#pragma once

#include <nlohmann/json.hpp>
#include <ostream>

#include "kg/model/record.h"
#include "kg/model/record_json.h"
#include "kg/store/rows.h"

namespace saggar::app {

inline void print(std::ostream& out, const nlohmann::json& document) {
    out << document.dump(2, ' ', false, nlohmann::json::error_handler_t::replace) << '\n';
}

// A record in the documented form of JSON Lines.
inline nlohmann::json as_json(const Record& record) {
    std::string text;
    append_json_fields(record, text);
    return nlohmann::json::parse(text);
}

// How many records a change put.
inline nlohmann::json as_json(const Entry::Counts& n) {
    return {{"entities", n.entities}, {"sources", n.sources},     {"claims", n.claims},   {"evidence", n.evidence},
            {"lists", n.lists},       {"arguments", n.arguments}, {"rulings", n.rulings}, {"withdrawals", n.withdrawals}};
}

}  // namespace saggar::app
