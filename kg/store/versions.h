// How a thing or a source was described before: every version of its description, the oldest first.
//
// Cost: one read.
#pragma once

#include <cstdint>
#include <utility>
#include <vector>

#include "kg/store/snapshot.h"

namespace saggar {

// Each with the entry from which it holds, up to the snapshot's. StoreFault where the graph is damaged.
std::vector<std::pair<std::uint64_t, Entity>> entity_versions(const Snapshot& snapshot, EntityId id);
std::vector<std::pair<std::uint64_t, Source>> source_versions(const Snapshot& snapshot, EntityId id);

}  // namespace saggar
