// Quads put in order and freed of doubles, however many: by graph, subject, predicate, object, bytewise, the default graph first.
//
// Sorted runs spill to a folder beyond a budget (kg/store/sorted_runs.h), so memory stays constant.
#pragma once

#include <filesystem>
#include <functional>
#include <string>

#include "importers/rdf/term.h"
#include "kg/store/sorted_runs.h"

namespace saggar::rdf {

class QuadSort {
public:
    static constexpr std::size_t budget = 32u << 20;

    explicit QuadSort(const std::filesystem::path& folder) : runs_(folder, "quads", budget) {}

    void add(const Quad& quad) {
        key_.assign(quad.graph);
        for (const std::string* part : {&quad.subject, &quad.predicate, &quad.object}) {
            key_ += '\0';
            key_ += *part;
        }
        runs_.add(key_, {});
    }

    // Every different quad, once, in order.
    void each(const std::function<void(const Quad&)>& visit) {
        Quad quad;
        runs_.merge([&](std::string_view key, std::string_view) {
            for (std::string* part : {&quad.graph, &quad.subject, &quad.predicate, &quad.object}) {
                const std::size_t end = part == &quad.object ? key.size() : key.find('\0');
                part->assign(key.substr(0, end));
                key.remove_prefix(std::min(end + 1, key.size()));
            }
            visit(quad);
        });
    }

private:
    SortedRuns runs_;
    std::string key_;
};

}  // namespace saggar::rdf
