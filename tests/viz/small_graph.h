// A small graph for the tests of pictures, put together record by record. Everything in it is invented.
//
//   Northern (line) is built on Lantern (memo 1, journal), commissioned by Northern Provident (memo 1 for, notice against);
//   Pinnace was modelled by Ennersley (journal) or by Stannick (notice; a guide copies it); Tern has a tureen according to a
//   photograph, an order list leaves it out; Fathom was replaced by Tern; a glaze holds lead; one letter is private.
#pragma once

#include <memory>

#include "../kg/store/temporary_folder.h"
#include "kg/store/store.h"

namespace saggar::testing {

class SmallGraph {
public:
    SmallGraph();
    const Snapshot& snapshot() const { return *snapshot_; }
    EntityId id(const char* key) const { return snapshot_->need(key); }
    ClaimRef claim(const char* subject, const char* relation, const char* object) const;

private:
    TemporaryFolder folder_;
    std::unique_ptr<Store> store_;
    std::unique_ptr<Snapshot> snapshot_;
};

}  // namespace saggar::testing
