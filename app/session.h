// Opening the graph for a verb, and the clock.
#pragma once

#include <memory>
#include <optional>
#include <string>

#include "app/verb.h"
#include "kg/store/store.h"

namespace saggar::app {

// Now, as ISO 8601 in UTC. SOURCE_DATE_EPOCH (reproducible-builds.org) stands still where it is set.
std::string now();

struct Session {
    Store store;
    std::unique_ptr<Snapshot> snapshot;  // as of what --as-of says
};

Session open_to_read(const Call& call);
Store open_to_write(const Call& call);

ChangeHead change_head(const Call& call, const Store& store, std::string verb, std::string reason);

// The claim a user names: an id ("claim:7k3…" or its beginning), or the words `subject relation object`.
ClaimRef need_claim(const Snapshot& snapshot, const std::string& text);

}  // namespace saggar::app
