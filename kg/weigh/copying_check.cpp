#include "kg/weigh/copying_check.h"

#include <algorithm>

#include "kg/store/snapshot.h"

namespace saggar {

std::vector<std::string> CopyingCheck::copied_from(const std::string& key) const {
    std::vector<std::string> roots;
    const auto noted = noted_.find(key);
    if (noted != noted_.end()) roots = noted->second;
    const auto id = snapshot_.find(key);
    const auto source = id ? snapshot_.source(*id) : std::nullopt;
    if (source) {
        for (const Copy& copy : source->copied_from) roots.push_back(copy.of);
    }
    return roots;
}

std::vector<std::string> CopyingCheck::note(const Source& source) {
    if (source.copied_from.empty()) return {};
    auto& copies = noted_[source.key];
    for (const Copy& copy : source.copied_from) copies.push_back(copy.of);
    std::map<std::string, std::string> came_from;
    std::vector<std::string> at{source.key};
    while (!at.empty()) {
        const std::string here = at.back();
        at.pop_back();
        for (const std::string& root : copied_from(here)) {
            if (root == source.key) {
                std::vector<std::string> circle{source.key};
                for (std::string back = here; back != source.key; back = came_from.at(back)) circle.push_back(back);
                circle.push_back(source.key);
                std::reverse(circle.begin(), circle.end());
                return circle;
            }
            if (came_from.emplace(root, here).second) at.push_back(root);
        }
    }
    return {};
}

}  // namespace saggar
