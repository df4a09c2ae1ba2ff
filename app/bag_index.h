// The page of a bag that a person opens first: what things and sources the graph holds, with their pictures.
#pragma once

#include <map>
#include <ostream>
#include <string>

#include "kg/store/snapshot.h"

namespace saggar::app {

// HTML without scripts. `pictures`: path below the page by key of the source. Private things and sources stay out unless
// `with_private`.
void write_bag_index(const Snapshot& graph, const std::map<std::string, std::string>& pictures, bool with_private,
                     std::ostream& out);

}  // namespace saggar::app
