#include "viz/copying.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <vector>

#include "kg/model/vocabulary.h"
#include "queries/statement.h"

namespace saggar::viz {

namespace {

struct CopyLink {
    EntityId copy, root;
    double chance = 1, fidelity = 1;
    bool by_claim = false;
    ClaimRef claim;
};

std::vector<CopyLink> all_copies(const Snapshot& snapshot) {
    std::vector<CopyLink> links;
    snapshot.each_source([&](EntityId id, const Source& source) {
        for (const auto& copy : source.copied_from) {
            if (const auto root = snapshot.find(copy.of))
                links.push_back({id, *root, copy.chance, copy.fidelity, false, {}});
        }
    });
    const auto relation = snapshot.relation_id("copied-from");
    if (relation) {
        snapshot.each_link([&](ClaimRef claim, EntityId object) {
            if (claim.relation == relation) links.push_back({claim.subject, object, 1, 1, true, claim});
        });
    }
    std::sort(links.begin(), links.end(), [&snapshot](const CopyLink& a, const CopyLink& b) {
        const auto &copy_a = snapshot.key_of(a.copy), &copy_b = snapshot.key_of(b.copy);
        if (copy_a != copy_b) return copy_a < copy_b;
        const auto &root_a = snapshot.key_of(a.root), &root_b = snapshot.key_of(b.root);
        return root_a != root_b ? root_a < root_b : a.by_claim < b.by_claim;
    });
    return links;
}

// Sources joined to `about` by copies, in any direction.
std::set<EntityId> relatives(const std::vector<CopyLink>& links, EntityId about) {
    std::set<EntityId> family{about};
    for (std::size_t before = 0; before != family.size();) {
        before = family.size();
        for (const auto& link : links) {
            if (family.count(link.copy) == 0 && family.count(link.root) == 0) continue;
            family.insert(link.copy);
            family.insert(link.root);
        }
    }
    return family;
}

std::size_t cited_box(Draft& draft, EntityId source) {
    const auto box = draft.entity(source);
    const int number = draft.cite(source);
    draft.diagram().nodes[box].citations = {number};
    return box;
}

void draw_link(Draft& draft, const CopyLink& link) {
    if (!draft.may_show(link.copy) || !draft.may_show(link.root)) return;
    if (link.by_claim) {
        if (const auto claim = draft.snapshot().claim(link.claim)) {
            if (const auto line = draft.claim_line(*claim)) draft.diagram().edges[*line].role = LineRole::copy;
        }
        return;
    }
    DiagramEdge edge;
    edge.from = cited_box(draft, link.copy);
    edge.to = cited_box(draft, link.root);
    edge.role = LineRole::copy;
    edge.label =
        link.chance < 1 ? fmt::format("was perhaps copied from (chance {:g})", link.chance) : "was copied from";
    if (link.fidelity < 1) edge.label += fmt::format(", fidelity {:g}", link.fidelity);
    if (link.chance < 1) edge.weight = link.chance;
    draft.diagram().edges.push_back(std::move(edge));
}

}  // namespace

Diagram copying(const Snapshot& snapshot, std::optional<EntityId> about, DraftOptions options) {
    Draft draft(snapshot, std::move(options), "copying");
    draft.diagram().flow = Flow::up;
    const auto links = all_copies(snapshot);
    std::set<EntityId> family;
    if (about) {
        family = relatives(links, *about);
        draft.diagram().nodes[draft.entity(*about)].focus = true;
    }
    for (const auto& link : links) {
        if (!about || family.count(link.copy) != 0) draw_link(draft, link);
    }
    const auto count = draft.diagram().edges.size();
    const auto title =
        about ? fmt::format("Who copied whom round {}", snapshot.label_of(*about)) : std::string("Who copied whom");
    return draft.finish(title, fmt::format("{} case{} of copying, as the records of the copies have it. A copy adds nothing "
                                           "to what its root says.", count,
                                           count == 1 ? "" : "s"));
}

}  // namespace saggar::viz
