#include "queries/cell_citation_json.h"

#include <nlohmann/json.hpp>

namespace saggar {

nlohmann::json to_json(const std::vector<CellCitation>& citations, const Snapshot& snapshot) {
    nlohmann::json out = nlohmann::json::array();
    for (const CellCitation& one : citations)
        out.push_back({{"source", snapshot.key_of(one.source)},
                       {"title", snapshot.label_of(one.source)},
                       {"record", one.record.full()},
                       {"is_list", one.is_list}});
    return out;
}

}  // namespace saggar
