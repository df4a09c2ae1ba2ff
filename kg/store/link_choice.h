// Which links of a thing a question can follow: so that of a shape with thousands of items only the lines built on it are read.
#pragma once

#include <algorithm>
#include <cstdint>
#include <vector>

#include "kg/store/ids.h"

namespace saggar {

class LinkChoice {
public:
    // Links of one relation, seen from one end, in the order of their keys (keys.h): by relation, the subject's first.
    using Group = std::uint64_t;
    static Group group(RelationId relation, bool forward) { return std::uint64_t{relation.value} << 1 | (forward ? 0 : 1); }

    // `forward`: the thing asked about is the subject. In any order, each once.
    void add(RelationId relation, bool forward) {
        const Group one = group(relation, forward);
        groups_.insert(std::upper_bound(groups_.begin(), groups_.end(), one), one);
    }
    bool takes(RelationId relation, bool forward) const {
        return std::binary_search(groups_.begin(), groups_.end(), group(relation, forward));
    }
    const std::vector<Group>& groups() const { return groups_; }  // ascending
    bool operator<(const LinkChoice& other) const { return groups_ < other.groups_; }

private:
    std::vector<Group> groups_;
};

// A choice made known to a graph (GraphView::choose). 0: all links.
using LinkChoiceNumber = std::uint32_t;

}  // namespace saggar
