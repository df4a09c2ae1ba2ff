#include "queries/change_reach.h"

#include <algorithm>
#include <array>
#include <map>
#include <set>
#include <string>

#include "kg/model/vocabulary.h"
#include "kg/store/ledger.h"
#include "kg/weigh/aliases.h"

namespace saggar {
namespace {

class ReachSearch : public LedgerVisitor {
public:
    ReachSearch(const Snapshot& before, const Snapshot& after)
        : before_(before), after_(after), aliases_{Aliases(before), Aliases(after)} {}

    ChangeReach find() {
        read_ledger(after_, before_.entry() + 1, after_.entry(), *this);
        if (found_.documents) {
            for (const Snapshot* graph : graphs())
                graph->each_claim([this](const ClaimWithEvidence& claim) { reach(claim.claim.ref); });
        }
        if (!sources_.empty()) follow_sources();
        for (std::size_t i = 0; i < waiting_.size(); ++i) expand(waiting_[i]);  // grows as it goes
        for (const ClaimRef claim : reached_)
            if (before_.claim(claim) || after_.claim(claim)) found_.claims.push_back(claim);
        return std::move(found_);
    }

    void entry(const Entry&) override {}
    void document(const std::string&, const std::string&) override { found_.documents = true; }
    void record(const Record& record) override {
        std::visit([this](const auto& one) { touch(one); }, record);
    }

private:
    std::array<const Snapshot*, 2> graphs() const { return {&before_, &after_}; }

    void reach(ClaimRef claim) {
        if (reached_.insert(claim).second) waiting_.push_back(claim);
    }
    void reach_bucket(EntityId subject, RelationId relation) {
        for (const Snapshot* graph : graphs())
            for (const ClaimWithEvidence& claim : graph->claims_of(subject, relation)) reach(claim.claim.ref);
    }
    void reach_all_about(EntityId thing) {
        for (const Snapshot* graph : graphs()) {
            for (const ClaimWithEvidence& claim : graph->claims_of(thing)) reach(claim.claim.ref);
            for (const ClaimRef claim : graph->claims_about(thing)) reach(claim);
        }
    }
    void reach_place(const ContentId& id) {
        const auto place = after_.place_of(id);
        if (!place) return;
        if (place->type == RecordPlace::Type::list) {
            reach_bucket(place->claim.subject, place->claim.relation);
        } else {
            reach(place->claim);
        }
    }

    // --- what was put or withdrawn -------------------------------------------------------------------------------
    void touch(const Entity&) {}
    void touch(const Source& source) {
        if (const auto id = after_.find(source.key)) {
            sources_.insert(*id);
            found_.sources.push_back(*id);
        }
    }
    void touch(const Withdrawal& withdrawal) { reach_place(withdrawal.of); }
    template <typename One>
    void touch(const One& record) {
        reach_place(id_of(record));
    }

    // --- sources -------------------------------------------------------------------------------------------------
    void follow_sources() {
        std::sort(found_.sources.begin(), found_.sources.end());
        found_.sources.erase(std::unique(found_.sources.begin(), found_.sources.end()), found_.sources.end());
        std::map<std::string, std::set<EntityId>> families, copiers;
        std::map<EntityId, std::set<std::string>> families_of;
        for (const Snapshot* graph : graphs()) {
            graph->each_source([&](EntityId id, const Source& source) {
                if (!source.family.empty()) {
                    families[source.family].insert(id);
                    families_of[id].insert(source.family);
                }
                for (const Copy& copy : source.copied_from) copiers[copy.of].insert(id);
            });
        }
        std::vector<EntityId> waiting(sources_.begin(), sources_.end());
        const auto add = [&](const std::set<EntityId>& more) {
            for (const EntityId one : more)
                if (sources_.insert(one).second) waiting.push_back(one);
        };
        for (std::size_t i = 0; i < waiting.size(); ++i) {  // grows as it goes
            for (const std::string& family : families_of[waiting[i]]) add(families[family]);
            add(copiers[after_.key_of(waiting[i])]);
        }
        for (const Snapshot* graph : graphs()) {
            for (const EntityId source : sources_)
                for (const EvidenceRow& row : graph->evidence_from(source)) reach(row.claim);
            if (!graph->any_listings()) continue;
            graph->each_listing([&](const ListingRow& row) {
                if (sources_.count(row.source)) reach_bucket(row.subject, row.relation);
            });
        }
    }

    // --- backwards along lineages --------------------------------------------------------------------------------
    void expand(ClaimRef claim) {
        for (std::size_t i = 0; i < 2; ++i) expand(claim, *graphs()[i], aliases_[i]);
    }

    void expand(ClaimRef ref, const Snapshot& graph, Aliases& aliases) {
        const Relation* relation = graph.vocabulary().find_relation(graph.relation_name(ref.relation));
        if (relation && relation->at_most_one) {
            reach_bucket(ref.subject, ref.relation);
            for (const Alias& alias : aliases.of(ref.subject)) reach_bucket(alias.other, ref.relation);
        } else if (!graph.listings(ref.subject, ref.relation).empty()) {
            reach_bucket(ref.subject, ref.relation);
        }
        if (graph.any_arguments())
            for (const ArgumentRow& row : graph.arguments_from(ref)) reach(row.conclusion);
        const auto claim = graph.claim(ref);
        if (!claim) return;
        for (const EvidenceRow& row : claim->evidence)
            if (!row.corrects.empty()) reach_place(row.corrects);
        if (!claim->claim.has_entity_object()) return;
        if (relation && relation->identity) expand_identity(claim->claim, graph, aliases);
        expand_forms(claim->claim, graph, aliases, relation && relation->symmetric);
    }

    // An identity that was accepted at either entry: all that is said under any of the names.
    void expand_identity(const ClaimRow& row, const Snapshot& graph, Aliases& aliases) {
        if (graph.rulings(row.ref).empty()) return;
        for (const EntityId name : {row.ref.subject, row.object}) {
            reach_all_about(name);
            for (const Alias& alias : aliases.of(name)) reach_all_about(alias.other);
        }
    }

    // The same claim the other way round or under another name.
    void expand_forms(const ClaimRow& row, const Snapshot& graph, Aliases& aliases, bool symmetric) {
        const auto names_of = [&](EntityId thing) {
            std::vector<std::string> names = {graph.key_of(thing)};
            for (const Alias& alias : aliases.of(thing)) names.push_back(graph.key_of(alias.other));
            return names;
        };
        Claim same = graph.to_record(row);
        for (const std::string& subject : names_of(row.ref.subject)) {
            for (const std::string& object : names_of(row.object)) {
                same.subject = subject;
                same.object.text = object;
                if (const auto found = graph.find_claim(same)) reach(*found);
                if (!symmetric) continue;
                std::swap(same.subject, same.object.text);
                if (const auto found = graph.find_claim(same)) reach(*found);
            }
        }
    }

    const Snapshot& before_;
    const Snapshot& after_;
    std::array<Aliases, 2> aliases_;
    ChangeReach found_;
    std::set<EntityId> sources_;
    std::set<ClaimRef> reached_;
    std::vector<ClaimRef> waiting_;
};

}  // namespace

ChangeReach change_reach(const Snapshot& before, const Snapshot& after) { return ReachSearch(before, after).find(); }

}  // namespace saggar
