#include "viz/neighbourhood.h"

#include <fmt/format.h>

#include <deque>

namespace saggar::viz {

namespace {

class Walk {
public:
    Walk(const Snapshot& snapshot, const NeighbourhoodOptions& options, DraftOptions draft)
        : snapshot_(snapshot), options_(options), draft_(snapshot, std::move(draft), "neighbourhood") {}

    Diagram run(EntityId centre) {
        draft_.diagram().nodes[draft_.entity(centre)].focus = true;
        reach(centre, 0);
        while (!queue_.empty()) {
            const auto [thing, depth] = queue_.front();
            queue_.pop_front();
            visit(thing, depth);
        }
        note_what_is_left_out();
        const auto& label = snapshot_.label_of(centre);
        const auto lines = draft_.diagram().edges.size();
        return draft_.finish(fmt::format("What is said about {}", label),
                             fmt::format("{} claim{} within {} step{} of {}.", lines, lines == 1 ? "" : "s",
                                         options_.depth, options_.depth == 1 ? "" : "s", label));
    }

private:
    bool wanted(EntityId thing) const {
        return options_.only.empty() || options_.only.count(std::string(snapshot_.kind_of(thing))) != 0;
    }

    void reach(EntityId thing, std::size_t depth) {
        if (!reached_.insert(thing).second) return;
        if (reached_.size() > options_.most) {
            ++not_looked_at_;
            return;
        }
        if (depth < options_.depth) queue_.push_back({thing, depth});
    }

    void visit(EntityId thing, std::size_t depth) {
        for (const auto& claim : snapshot_.claims_of(thing)) draw(claim, claim.claim.object, depth);
        for (const auto ref : snapshot_.claims_about(thing)) {
            if (const auto claim = snapshot_.claim(ref)) draw(*claim, ref.subject, depth);
        }
    }

    void draw(const ClaimWithEvidence& claim, EntityId other, std::size_t depth) {
        const bool is_thing = claim.claim.has_entity_object();
        if (is_thing ? !wanted(other) : !options_.values || !options_.only.empty()) return;
        if (options_.least_support > 0 && draft_.options().figure) {
            if (draft_.options().figure(claim.claim.ref).support.value_or(0) < options_.least_support) {
                too_weak_.insert(claim.claim.ref);
                return;
            }
        }
        if (draft_.claim_line(claim) && is_thing) reach(other, depth + 1);
    }

    void note_what_is_left_out() {
        auto& left_out = draft_.diagram().left_out;
        const auto add = [&left_out](const std::string& text) { left_out += (left_out.empty() ? "" : " ") + text; };
        if (!too_weak_.empty())
            add(fmt::format("{} claims with a support under {:g}.", too_weak_.size(), options_.least_support));
        if (!options_.only.empty()) {
            std::string kinds;
            for (const auto& kind : options_.only) kinds += (kinds.empty() ? "" : ", ") + kind;
            add(fmt::format("Everything but {}.", kinds));
        }
        if (not_looked_at_ > 0) add(fmt::format("{} things further away.", not_looked_at_));
    }

    const Snapshot& snapshot_;
    const NeighbourhoodOptions& options_;
    Draft draft_;
    std::set<EntityId> reached_;
    std::set<ClaimRef> too_weak_;
    std::deque<std::pair<EntityId, std::size_t>> queue_;
    std::size_t not_looked_at_ = 0;
};

}  // namespace

Diagram neighbourhood(const Snapshot& snapshot, EntityId centre, const NeighbourhoodOptions& options,
                      DraftOptions draft) {
    return Walk(snapshot, options, std::move(draft)).run(centre);
}

}  // namespace saggar::viz
