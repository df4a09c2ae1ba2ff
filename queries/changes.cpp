#include "queries/changes.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <memory>
#include <set>

#include "kg/model/vocabulary.h"
#include "kg/weigh/answer_book.h"
#include "kg/weigh/behind.h"
#include "kg/weigh/gather.h"
#include "kg/weigh/weigher.h"
#include "queries/change_reach.h"

namespace saggar {
namespace {

// One end of the comparison.
struct End {
    End(const Snapshot& its_graph, const std::shared_ptr<AnswerBook>& book)
        : graph(its_graph), weigher(graph, book), gatherer(graph, weigher.profile()) {}
    std::optional<Weight> weigh(ClaimRef claim) {
        if (!graph.claim(claim)) return std::nullopt;
        WeighOptions options;
        options.explain = false;
        return weigher.weigh(claim, options);
    }
    // Everything behind the claim, with the rulings by which identities hold.
    Behind behind_claim(ClaimRef claim) {
        Behind found = behind(gatherer, claim);
        for (const ClaimRef one : found.claims) {
            const Relation* relation = graph.vocabulary().find_relation(graph.relation_name(one.relation));
            if (!relation || !relation->identity) continue;
            for (const RulingRow& row : graph.rulings(one)) found.records.push_back(row.id);
        }
        for (const ClaimRef one : found.claims)
            if (graph.claim(one)) found.records.push_back(graph.content_of(one));
        std::sort(found.records.begin(), found.records.end());
        return found;
    }

    const Snapshot& graph;
    Weigher weigher;
    Gatherer gatherer;
};

class ChangeComparison {
public:
    ChangeComparison(const Snapshot& before, const Snapshot& after, double least) : before_(before, book_), after_(after, book_), least_(least) {}

    ChangesAnswer answer() {
        const ChangeReach reach = change_reach(before_.graph, after_.graph);
        ChangesAnswer answer;
        answer.from = before_.graph.entry();
        answer.to = after_.graph.entry();
        answer.reached = reach.claims.size();
        for (const ClaimRef claim : reach.claims)
            if (auto one = compare(claim)) answer.claims.push_back(std::move(*one));
        for (ChangedClaim& one : answer.claims) explain(one, reach);
        const auto id = [this](const ChangedClaim& one) { return after_.graph.content_of(one.claim); };
        std::sort(answer.claims.begin(), answer.claims.end(), [&](const ChangedClaim& a, const ChangedClaim& b) {
            const double moved_a = std::abs(a.moved()), moved_b = std::abs(b.moved());
            return moved_a != moved_b ? moved_a > moved_b : id(a) < id(b);
        });
        return answer;
    }

private:
    std::optional<ChangedClaim> compare(ClaimRef claim) {
        const auto before = before_.weigh(claim), after = after_.weigh(claim);
        ChangedClaim one;
        one.claim = claim;
        double noise = 0;
        const auto take = [&](const std::optional<Weight>& weight, std::optional<Masses>& masses, double& support) {
            if (!weight) return;
            masses = weight->masses;
            support = weight->support;
            noise += weight->half_width;
        };
        take(before, one.before, one.support_before);
        take(after, one.after, one.support_after);
        if (std::abs(one.moved()) <= least_ + noise) return std::nullopt;
        return one;
    }

    void explain(ChangedClaim& one, const ChangeReach& reach) {
        const Behind before = before_.behind_claim(one.claim), after = after_.behind_claim(one.claim);
        std::vector<ContentId> gone, come;
        std::set_difference(before.records.begin(), before.records.end(), after.records.begin(), after.records.end(),
                            std::back_inserter(gone));
        std::set_difference(after.records.begin(), after.records.end(), before.records.begin(), before.records.end(),
                            std::back_inserter(come));
        for (const ContentId& id : gone) one.causes.push_back(cause_of_going(id));
        for (const ContentId& id : come) one.causes.push_back(cause_of_coming(id));
        add_described(before, after, reach, one);
        if (reach.documents) one.causes.push_back({ChangeCause::What::document, {}, {}, 0, {}});
        std::stable_sort(one.causes.begin(), one.causes.end(),
                         [](const ChangeCause& a, const ChangeCause& b) { return rank(a) < rank(b); });
    }

    // Withdrawn first, then added, then the rest.
    static int rank(const ChangeCause& cause) {
        switch (cause.what) {
            case ChangeCause::What::withdrawn:
                return 0;
            case ChangeCause::What::added:
                return 1;
            default:
                return 2 + static_cast<int>(cause.what);
        }
    }

    ChangeCause cause_of_going(const ContentId& id) const {
        const Spans spans = after_.graph.spans_of(id);
        if (spans.empty() || spans.back().until == 0) return {ChangeCause::What::left, id, {}, 0, {}};
        ChangeCause cause{ChangeCause::What::withdrawn, id, {}, spans.back().until, {}};
        for (const Entry& entry : after_.graph.history(cause.entry, cause.entry))
            for (const Withdrawal& one : entry.withdrawals)
                if (one.of == id) cause.reason = one.reason;
        return cause;
    }

    ChangeCause cause_of_coming(const ContentId& id) const {
        const std::uint64_t since = in_force_since(after_.graph.spans_of(id), after_.graph.entry());
        if (since <= before_.graph.entry()) return {ChangeCause::What::joined, id, {}, 0, {}};
        return {ChangeCause::What::added, id, {}, since, {}};
    }

    // Sources of the lineage described anew; also those of their families, since one's grade can move what all share.
    void add_described(const Behind& before, const Behind& after, const ChangeReach& reach, ChangedClaim& one) const {
        std::set<std::string> families;
        for (const EntityId id : before.sources)
            for (const Snapshot* graph : {&before_.graph, &after_.graph})
                if (const auto source = graph->source(id); source && !source->family.empty()) families.insert(source->family);
        const auto has = [](const std::vector<EntityId>& sources, EntityId id) {
            return std::binary_search(sources.begin(), sources.end(), id);
        };
        for (const EntityId id : reach.sources) {
            bool bears = has(before.sources, id);
            if (!has(after.sources, id)) {  // a source that came with its readings is told by them
                for (const Snapshot* graph : {&before_.graph, &after_.graph})
                    if (const auto source = graph->source(id); source && families.count(source->family)) bears = true;
            }
            if (bears) one.causes.push_back({ChangeCause::What::described, {}, id, 0, {}});
        }
    }

    // Where nothing that a claim rests on has changed, the second answer is the first.
    std::shared_ptr<AnswerBook> book_ = std::make_shared<AnswerBook>();
    End before_;
    End after_;
    double least_;
};

}  // namespace

ChangesAnswer changes(const Snapshot& before, const Snapshot& after, double least) {
    return ChangeComparison(before, after, least).answer();
}

}  // namespace saggar
