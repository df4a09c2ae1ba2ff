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

// The entry a user names by number or date; `option` is named where it is neither. UsageFault.
std::uint64_t entry_named(const Store& store, const std::string& text, const std::string& option);

struct Session {
    Store store;
    std::unique_ptr<Snapshot> snapshot;  // as of what --as-of says
};

Session open_to_read(const Call& call);
Store open_to_write(const Call& call);

ChangeHead change_head(const Call& call, const Store& store, std::string verb, std::string reason);

// The thing a user names by its key. UsageFault where there is none, or where it is private and not asked for.
EntityId need_thing(const Call& call, const Snapshot& snapshot, const std::string& key);

// The claim a user names: an id ("claim:7k3…" or its beginning), or the words `subject relation object`.
ClaimRef need_claim(const Snapshot& snapshot, const std::string& text);

// "line:northern commissioned-by company:calloway", as need_claim reads it.
std::string name_of_claim(const Snapshot& snapshot, ClaimRef claim);

}  // namespace saggar::app
