#include "viz/descent.h"

#include <fmt/format.h>

#include <algorithm>
#include <deque>
#include <set>

namespace saggar::viz {

namespace {

class Family {
public:
    Family(const Snapshot& snapshot, const DescentOptions& options, DraftOptions draft)
        : snapshot_(snapshot), draft_(snapshot, std::move(draft), "descent") {
        for (const auto& name : options.relations) {
            if (const auto id = snapshot.relation_id(name)) relations_.insert(id);
        }
    }

    void start(EntityId thing) {
        reach(thing);
        while (!queue_.empty()) {
            const auto next = queue_.front();
            queue_.pop_front();
            for (const auto relation : relations_) {
                for (const auto& claim : snapshot_.claims_of(next, relation)) draw(claim);
            }
            for (const auto ref : snapshot_.claims_about(next)) {
                if (relations_.count(ref.relation) == 0) continue;
                if (const auto claim = snapshot_.claim(ref)) draw(*claim);
            }
        }
    }

    Draft& draft() { return draft_; }
    bool follows(RelationId relation) const { return relations_.count(relation) != 0; }

private:
    void reach(EntityId thing) {
        if (reached_.insert(thing).second) queue_.push_back(thing);
    }

    void draw(const ClaimWithEvidence& claim) {
        if (!claim.claim.has_entity_object() || !draft_.claim_line(claim)) return;
        reach(claim.claim.ref.subject);
        reach(claim.claim.object);
    }

    const Snapshot& snapshot_;
    Draft draft_;
    std::set<RelationId> relations_;
    std::set<EntityId> reached_;
    std::deque<EntityId> queue_;
};

// Every thing that is the subject of such a claim, in key order.
std::vector<EntityId> all_with_descent(const Snapshot& snapshot, const Family& family) {
    std::vector<std::pair<std::string, EntityId>> found;
    std::set<EntityId> seen;
    snapshot.each_link([&](ClaimRef claim, EntityId) {
        if (family.follows(claim.relation) && seen.insert(claim.subject).second)
            found.emplace_back(snapshot.key_of(claim.subject), claim.subject);
    });
    std::sort(found.begin(), found.end());
    std::vector<EntityId> things;
    for (const auto& [key, id] : found) things.push_back(id);
    return things;
}

}  // namespace

Diagram descent(const Snapshot& snapshot, const std::vector<EntityId>& from, const DescentOptions& options,
                DraftOptions draft) {
    Family family(snapshot, options, std::move(draft));
    const auto starts = from.empty() ? all_with_descent(snapshot, family) : from;
    for (const auto thing : starts) {
        if (!from.empty()) family.draft().diagram().nodes[family.draft().entity(thing)].focus = true;
        family.start(thing);
    }
    const auto lines = family.draft().diagram().edges.size();
    std::string title = "What was replaced and what was borrowed";
    if (from.size() == 1)
        title =
            fmt::format("What {} was replaced by, came after and was borrowed from", snapshot.label_of(from.front()));
    return family.draft().finish(
        title,
        fmt::format(
            "{} claim{}. Arrows run from a thing to what replaced it, and from a borrowed thing to where it came from.",
            lines, lines == 1 ? "" : "s"));
}

}  // namespace saggar::viz
