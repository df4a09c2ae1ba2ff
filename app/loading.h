// Reading one file into the graph: all or nothing, told in counts and problems. Shared by `load` and `note`.
#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "app/verb.h"
#include "importers/reader.h"
#include "kg/store/store.h"

namespace saggar::app {

struct LoadJob {
    std::filesystem::path path;
    ReadOptions options;
    bool dry_run = false;
    std::optional<std::string> bytes;  // instead of the file's content
    std::string verb = "load";
    std::string reason;  // empty: the file's name
};

struct LoadResult {
    Problems problems;
    Entry::Counts counts;                        // new or changed
    std::uint64_t entry = 0;                     // made; 0: none
    std::optional<std::uint64_t> loaded_before;  // the entry an identical file made, of which something stands
    std::uint64_t taken_back = 0;                // records of that entry that were withdrawn since
};

// Nothing is kept where a problem is an error. StoreFault, UsageFault (file not there, format not told).
LoadResult load(Store& store, const Call& call, const LoadJob& job);

// "3 things, 1 source": what an entry brought.
std::string counts_in_words(const Entry::Counts& counts);

// Problems as text: those kept, then how many more there were.
void write_problems(std::ostream& out, const Problems& problems);

}  // namespace saggar::app
