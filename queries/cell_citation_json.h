// The readings and lists behind a cell as JSON, alike in every answer that is made of cells.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <vector>

#include "queries/cell.h"

namespace saggar {

// One object a citation: source (key), title, record (full id), is_list. The snapshot is the one that was asked.
nlohmann::json to_json(const std::vector<CellCitation>& citations, const Snapshot& snapshot);

}  // namespace saggar
