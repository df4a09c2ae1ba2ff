#include "viz/condense.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

namespace saggar::viz {

namespace {

constexpr std::size_t kStays = static_cast<std::size_t>(-1);
constexpr std::size_t kNamed = 4;  // members named in a group's box

bool must_stand(const DiagramNode& node) { return node.focus || node.disputed || node.ruled; }

// Which group each box goes into; kStays: none.
using Grouping = std::vector<std::size_t>;

struct Hanging {
    std::size_t lines = 0;
    std::size_t edge = 0;
};

std::vector<Hanging> count_lines(const Diagram& diagram) {
    std::vector<Hanging> hanging(diagram.nodes.size());
    for (std::size_t e = 0; e < diagram.edges.size(); ++e) {
        for (const auto end : {diagram.edges[e].from, diagram.edges[e].to}) {
            ++hanging[end].lines;
            hanging[end].edge = e;
        }
    }
    return hanging;
}

// Leaves by the box they hang on, the side, the relation and their kind; the largest groups until enough boxes are
// gone.
Grouping group_leaves(const Diagram& diagram, std::size_t most) {
    using Key = std::tuple<std::size_t, bool, std::string, std::string>;
    const auto hanging = count_lines(diagram);
    std::map<Key, std::vector<std::size_t>> groups;
    for (std::size_t i = 0; i < diagram.nodes.size(); ++i) {
        if (hanging[i].lines != 1 || must_stand(diagram.nodes[i])) continue;
        const auto& edge = diagram.edges[hanging[i].edge];
        if (edge.disputed || edge.ruled) continue;
        const bool is_head = edge.to == i;
        groups[{is_head ? edge.from : edge.to, is_head, edge.label, diagram.nodes[i].kind}].push_back(i);
    }
    std::vector<const std::vector<std::size_t>*> by_size;
    for (const auto& [key, members] : groups) {
        if (members.size() > 1) by_size.push_back(&members);
    }
    std::stable_sort(by_size.begin(), by_size.end(),
                     [](const auto* a, const auto* b) { return a->size() > b->size(); });
    Grouping grouping(diagram.nodes.size(), kStays);
    std::size_t left = diagram.nodes.size();
    for (std::size_t g = 0; g < by_size.size() && left > most; ++g) {
        for (const auto member : *by_size[g]) grouping[member] = g;
        left -= by_size[g]->size() - 1;
    }
    return grouping;
}

// Everything that need not stand by itself, by kind; of what must, only the first ones.
Grouping group_kinds(const Diagram& diagram, std::size_t most) {
    std::map<std::string, std::size_t> kinds;
    Grouping grouping(diagram.nodes.size(), kStays);
    std::size_t standing = 0;
    for (std::size_t i = 0; i < diagram.nodes.size(); ++i) {
        if (diagram.nodes[i].focus || (must_stand(diagram.nodes[i]) && standing < most / 2)) {
            ++standing;
            continue;
        }
        grouping[i] = kinds.try_emplace(diagram.nodes[i].kind, kinds.size()).first->second;
    }
    return grouping;
}

std::string members_in_words(const std::vector<std::string>& labels) {
    std::string text;
    for (std::size_t i = 0; i < labels.size() && i < kNamed; ++i) text += (i == 0 ? "" : ", ") + labels[i];
    if (labels.size() > kNamed) text += fmt::format(" and {} more", labels.size() - kNamed);
    return text;
}

void unite(std::vector<int>& into, const std::vector<int>& numbers) {
    into.insert(into.end(), numbers.begin(), numbers.end());
    std::sort(into.begin(), into.end());
    into.erase(std::unique(into.begin(), into.end()), into.end());
}

class Regrouper {
public:
    Regrouper(const Diagram& diagram, const Grouping& grouping) : diagram_(diagram), grouping_(grouping) {}

    Diagram run() {
        Diagram result = diagram_;
        result.nodes.clear();
        result.edges.clear();
        place_nodes(result);
        for (const auto& edge : diagram_.edges) place_edge(result, edge);
        for (const auto& [group, labels] : labels_) {
            auto& node = result.nodes[group_node_.at(group)];
            node.label = fmt::format("{} together", labels.size());
            node.note = members_in_words(labels);
            gone_ += labels.size() - 1;
        }
        result.left_out += fmt::format("{}To keep the picture readable {} boxes were put together into {} by kind.",
                                       result.left_out.empty() ? "" : " ", gone_ + labels_.size(), labels_.size());
        return result;
    }

private:
    void place_nodes(Diagram& result) {
        for (std::size_t i = 0; i < diagram_.nodes.size(); ++i) {
            const auto group = grouping_[i];
            if (group == kStays) {
                new_index_.push_back(result.nodes.size());
                result.nodes.push_back(diagram_.nodes[i]);
                continue;
            }
            const auto [place, is_new] = group_node_.try_emplace(group, result.nodes.size());
            if (is_new) {
                DiagramNode node;
                node.kind = diagram_.nodes[i].kind;
                node.outline = diagram_.nodes[i].outline;
                result.nodes.push_back(std::move(node));
            }
            auto& node = result.nodes[place->second];
            node.caution = node.caution || diagram_.nodes[i].caution;
            node.disputed = node.disputed || diagram_.nodes[i].disputed;
            node.ruled = node.ruled || diagram_.nodes[i].ruled;
            unite(node.citations, diagram_.nodes[i].citations);
            labels_[group].push_back(diagram_.nodes[i].label);
            new_index_.push_back(place->second);
        }
    }

    void place_edge(Diagram& result, const DiagramEdge& edge) {
        DiagramEdge moved = edge;
        moved.from = new_index_[edge.from];
        moved.to = new_index_[edge.to];
        const bool grouped = grouping_[edge.from] != kStays || grouping_[edge.to] != kStays;
        if (!grouped) {
            result.edges.push_back(std::move(moved));
            return;
        }
        if (moved.from == moved.to) return;
        const int stance = edge.stance ? static_cast<int>(*edge.stance) : -1;
        const auto [place, is_new] =
            joined_.try_emplace({moved.from, moved.to, moved.label, stance}, result.edges.size());
        if (is_new) {
            moved.key.clear();
            moved.weight.reset();  // several claims: no one figure
            result.edges.push_back(std::move(moved));
            return;
        }
        auto& line = result.edges[place->second];
        unite(line.cited_for, edge.cited_for);
        unite(line.cited_against, edge.cited_against);
        line.disputed = line.disputed || edge.disputed;
        line.ruled = line.ruled || edge.ruled;
    }

    const Diagram& diagram_;
    const Grouping& grouping_;
    std::vector<std::size_t> new_index_;
    std::map<std::size_t, std::size_t> group_node_;
    std::map<std::size_t, std::vector<std::string>> labels_;
    std::map<std::tuple<std::size_t, std::size_t, std::string, int>, std::size_t> joined_;
    std::size_t gone_ = 0;
};

}  // namespace

Diagram condensed(Diagram diagram, std::size_t most) {
    if (diagram.nodes.size() <= most) return diagram;
    Diagram smaller = Regrouper(diagram, group_leaves(diagram, most)).run();
    if (smaller.nodes.size() <= most) return smaller;
    smaller = Regrouper(diagram, group_kinds(diagram, most)).run();
    return smaller;
}

}  // namespace saggar::viz
