#include "queries/privacy.h"
#include "queries/trace.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <tuple>

#include "kg/weigh/aliases.h"
#include "kg/graph/view.h"
#include "kg/model/fault.h"
#include "kg/model/vocabulary.h"
#include "kg/time/read_error.h"
#include "kg/weigh/profile.h"

namespace saggar {

namespace {

constexpr std::size_t most_chains = 1000;
// For the figure over all chains: where it cannot be worked out soon, it is sampled.
constexpr std::size_t nodes_for_all = 50'000;

std::vector<RelationIndex> relation_indices(const Snapshot& snapshot, const PathExpression& path) {
    std::vector<RelationIndex> indices;
    for (std::uint32_t id = 0; id < snapshot.relation_bound(); ++id) {
        const auto use = snapshot.vocabulary().find_use(snapshot.relation_name(RelationId{id}));
        indices.push_back(use && !use->inverse ? use->relation : path.unknown_relation());
    }
    return indices;
}

time::Conventions conventions_of(const Weigher& weigher) {
    time::Conventions conventions;
    conventions.about = weigher.profile().about_years;
    return conventions;
}

void check(const Snapshot& snapshot, const TraceQuestion& question) {
    if (question.limits.best < 1 || question.limits.best > most_chains) {
        throw UsageFault(fmt::format("{} chains were asked for", question.limits.best),
                         fmt::format("ask for 1 to {}", most_chains));
    }
    if (!question.to_kind.empty() && !snapshot.vocabulary().find_kind(question.to_kind)) {
        throw UsageFault(fmt::format("\"{}\" is no kind of the vocabulary \"{}\"{}", question.to_kind,
                                     snapshot.vocabulary().name(),
                                     Vocabulary::suggestion(snapshot.vocabulary().nearest_kind(question.to_kind))),
                         "use a kind as it stands before the colon of a key, for example \"company\"");
    }
}

std::optional<time::Span> period_of(const TraceQuestion& question, const time::Conventions& conventions) {
    if (question.during.empty()) return std::nullopt;
    const time::Read<time::Span> read = time::read_span(question.during, conventions);
    if (!read) {
        const Problem problem = time::problem_of(read.error, question.during);
        throw UsageFault(fmt::format("the date \"{}\" cannot be read: {}", question.during, problem.message),
                         problem.next_step);
    }
    return *read;
}

std::vector<ClaimRef> claims_of(const FoundChain& chain) {
    std::vector<ClaimRef> claims;
    for (const ChainStep& step : chain.steps) claims.push_back(step.claim);
    return claims;
}

// What a chain says, for a stable order among equals.
std::vector<std::string> words_of(const Snapshot& snapshot, const TraceChain& chain) {
    std::vector<std::string> words;
    for (const TraceStep& step : chain.steps) {
        words.push_back(snapshot.relation_name(step.step.claim.relation));
        words.push_back(snapshot.key_of(step.step.to));
        const auto claim = snapshot.claim(step.step.claim);
        words.push_back(claim ? claim->claim.id.full() : std::string());
    }
    return words;
}

void sort_chains(const Snapshot& snapshot, std::vector<TraceChain>& chains) {
    using Keyed = std::tuple<double, std::size_t, std::vector<std::string>, std::size_t>;
    std::vector<Keyed> order;
    for (std::size_t i = 0; i < chains.size(); ++i) {
        // Products that differ by rounding only are equal.
        const double rounded = std::round(chains[i].support * 1e12);
        order.emplace_back(-rounded, chains[i].steps.size(), words_of(snapshot, chains[i]), i);
    }
    std::sort(order.begin(), order.end());
    std::vector<TraceChain> sorted;
    for (const Keyed& key : order) sorted.push_back(std::move(chains[std::get<3>(key)]));
    chains = std::move(sorted);
}

std::vector<Chain> shown_claims(const TraceAnswer& answer) {
    std::vector<Chain> shown;
    for (const TraceChain& chain : answer.chains) {
        shown.emplace_back();
        for (const TraceStep& step : chain.steps) shown.back().push_back(step.step.claim);
    }
    return shown;
}

// The figure over all chains, shown or not.
void weigh_all(Weigher& weigher, const TraceQuestion& question, ChainSearch<GraphView>& chains,
               const std::function<bool(const FoundChain&)>& wanted, TraceAnswer& answer) {
    WeighOptions options;
    options.explain = false;
    options.node_budget = std::min(nodes_for_all, weigher.profile().nodes);
    // A condition on whole chains cannot be laid on a web.
    const std::optional<ClaimWeb> web = wanted ? std::nullopt : chains.web(question.most_web_claims);
    if (web) {
        answer.joint_all = weigher.joint(*web, options);
        return;
    }
    ChainLimits wide = question.limits;
    wide.best = std::max(question.most_together, question.limits.best);
    const FoundChains all = chains.best(wide, wanted);
    std::vector<Chain> together;
    std::set<ClaimRef> claims;
    for (const FoundChain& chain : all.chains) {
        const Chain next = claims_of(chain);
        std::set<ClaimRef> more = claims;
        more.insert(next.begin(), next.end());
        const bool room = together.size() < wide.best && more.size() <= question.most_listed_claims;
        if (!room && together.size() >= answer.chains.size()) break;
        claims = std::move(more);
        together.push_back(next);
    }
    answer.chains_all = together.size();
    answer.all_complete = all.complete && together.size() == all.chains.size() && together.size() < wide.best;
    if (together.size() <= answer.chains.size()) return;
    answer.joint_all = weigher.joint(together, options);
}

}  // namespace

TraceAnswer trace(const Snapshot& snapshot, Weigher& weigher, const TraceQuestion& question) {
    check(snapshot, question);
    const PathExpression path = question.via ? *question.via : any_path(snapshot.vocabulary());
    const time::Conventions conventions = conventions_of(weigher);
    const std::optional<time::Span> period = period_of(question, conventions);
    ClaimTimes times(snapshot, conventions);

    ChainQuestion search;
    search.from = question.from;
    search.only_goal = question.to;
    search.is_goal = [&](EntityId id) {
        if (question.to && id != *question.to) return false;
        return question.to_kind.empty() || snapshot.kind_of(id) == question.to_kind;
    };
    Privacy privacy(snapshot, question.with_private);
    search.support = [&](ClaimRef claim) {
        if (!question.with_private) {
            const auto row = snapshot.claim(claim);
            if (!row || !privacy.may_show(*row)) return 0.0;
        }
        if (period && !times.may_hold(claim, *period)) return 0.0;
        return weigher.support(claim);
    };
    search.relation_index = relation_indices(snapshot, path);
    const Aliases aliases(snapshot);
    if (aliases.any()) {
        for (std::uint32_t id = 0; id < snapshot.relation_bound(); ++id)
            if (aliases.is_identity(RelationId{id})) search.identity_relations.push_back(RelationId{id});
        search.is_identity = [&](ClaimRef claim) { return aliases.is_identity(claim.relation) && is_accepted(snapshot, claim); };
    }
    std::function<bool(const FoundChain&)> wanted;
    if (period) wanted = [&](const FoundChain& chain) { return times.of_chain(claims_of(chain), period).possible; };

    const GraphView view(snapshot);
    TraceAnswer answer;
    answer.from = question.from;
    answer.to = question.to;
    answer.to_kind = question.to_kind;
    answer.via = path.text;
    answer.during = question.during;

    ChainSearch<GraphView> chains(view, path, search, question.limits.settled);
    const FoundChains found = chains.best(question.limits, wanted);
    answer.complete = found.complete;
    answer.settled = found.settled;
    for (const FoundChain& chain : found.chains) {
        TraceChain shown;
        shown.support = 1;
        for (const ChainStep& step : chain.steps) {
            shown.steps.push_back({step, weigher.support(step.claim)});
            shown.support *= shown.steps.back().support;
        }
        shown.time = times.of_chain(claims_of(chain), period);
        answer.chains.push_back(std::move(shown));
    }
    sort_chains(snapshot, answer.chains);
    if (answer.chains.size() > question.limits.best) {
        answer.chains.resize(question.limits.best);
        answer.more = true;
    }
    if (question.weigh_together && !answer.chains.empty()) {
        answer.joint = weigher.joint(shown_claims(answer));
        if (answer.chains.size() == question.limits.best) weigh_all(weigher, question, chains, wanted, answer);
    }
    return answer;
}

}  // namespace saggar
