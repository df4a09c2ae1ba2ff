// Which links of a thing a question can follow: so that of a shape with thousands of items only the lines built on it are read.
#pragma once

#include <algorithm>
#include <compare>
#include <cstdint>
#include <vector>

#include "kg/store/ids.h"

namespace saggar {

struct LinkChoice {
    // Relations of which the thing is the subject, and of which it is the object. Ascending.
    std::vector<RelationId> forward;
    std::vector<RelationId> backward;
    auto operator<=>(const LinkChoice&) const = default;

    bool takes(RelationId relation, bool is_forward) const {
        const std::vector<RelationId>& wanted = is_forward ? forward : backward;
        return std::binary_search(wanted.begin(), wanted.end(), relation);
    }
};

// A choice made known to a graph (GraphView::choose). 0: all links.
using LinkChoiceNumber = std::uint32_t;

}  // namespace saggar
