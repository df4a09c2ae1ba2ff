// Messages gathered by the node they are about, however many: added in any order, given back node by node.
//
// Sorted runs on disk (kg/store/sorted_runs.h) beyond a budget, so memory does not grow with the file. Nodes come in the order of a hash of
// their names, messages to a node by rank, then in the order they were added.
#pragma once

#include <cstdint>
#include <filesystem>
#include <functional>
#include <string>
#include <string_view>

#include "importers/rdf/packed.h"
#include "kg/store/sorted_runs.h"

namespace saggar::rdf {

class Grouping {
public:
    static constexpr std::size_t budget = 6u << 20;

    Grouping(const std::filesystem::path& folder, const std::string& name) : runs_(folder, name, budget) {}

    void add(std::string_view node, std::uint8_t rank, std::string_view message) {
        key_.clear();
        pack_sorted(key_, hash(node));
        key_ += node;
        key_ += '\0';
        key_ += static_cast<char>(rank);
        pack_sorted(key_, count_++);
        runs_.add(key_, message);
    }

    // `first` is true for the first message to a node.
    using Visit = std::function<void(std::string_view node, bool first, std::uint8_t rank, std::string_view message)>;
    void each(const Visit& visit) {
        std::string node;
        bool any = false;
        runs_.merge([&](std::string_view key, std::string_view message) {
            const std::string_view name = key.substr(8, key.size() - 8 - 10);
            const bool first = !any || name != node;
            if (first) node.assign(name);
            any = true;
            visit(node, first, static_cast<std::uint8_t>(key[key.size() - 9]), message);
        });
    }

private:
    // FNV-1a, 64 bits (Fowler, Noll, Vo).
    static std::uint64_t hash(std::string_view text) {
        std::uint64_t value = 14695981039346656037u;
        for (const char sign : text) value = (value ^ static_cast<unsigned char>(sign)) * 1099511628211u;
        return value;
    }

    SortedRuns runs_;
    std::string key_;
    std::uint64_t count_ = 0;
};

}  // namespace saggar::rdf
