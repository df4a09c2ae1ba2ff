// The graph of somebody else, as its history tells it: a graph folder, or a file of JSON Lines.
//
// It can be told more than once, so that nobody has to hold it in memory. Cost: one pass each time.
#pragma once

#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>

#include "importers/sink.h"
#include "kg/store/store.h"

namespace saggar {

class TheirGraph {
public:
    virtual ~TheirGraph() = default;
    // Entries, documents and records in the order that replays them. Problems with a file's text go into `problems`.
    virtual void tell(Sink& sink, Problems& problems) = 0;
    // How reports and the history call it: the last part of its path.
    const std::string& name() const { return name_; }
    // The graph folder, which keeps its pictures (kg/store/media.h); empty: a file, which carries none.
    virtual std::filesystem::path folder() const { return {}; }

    // UsageFault where the path leads to neither a graph folder nor a file; StoreFault where the graph cannot be read.
    static std::unique_ptr<TheirGraph> open(const std::filesystem::path& path);

protected:
    explicit TheirGraph(std::string name) : name_(std::move(name)) {}

private:
    std::string name_;
};

}  // namespace saggar
