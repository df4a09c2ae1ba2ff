// What stands behind a claim's weight: every claim, record and source its lineage holds.
//
// A ruling looks at these records; when one that it did not see joins them, the ruling is stale. A claim's weight can
// only change when one of them does. Cost: that of gathering the case; nothing is worked out.
#pragma once

#include <vector>

#include "kg/model/content_id.h"
#include "kg/store/ids.h"

namespace saggar {

class Gatherer;

// Everything sorted, without duplicates.
struct Behind {
    std::vector<ClaimRef> claims;    // with the claim itself, rivals, premises, identities
    std::vector<ContentId> records;  // evidence, lists, arguments
    std::vector<EntityId> sources;   // with those that others were copied from
};

Behind behind(Gatherer& gatherer, ClaimRef claim);

}  // namespace saggar
