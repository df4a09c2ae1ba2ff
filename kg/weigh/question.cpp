#include "kg/weigh/question.h"

#include <algorithm>

#include "kg/weigh/profile.h"
#include "kg/weigh/sample.h"

namespace saggar {

using weighing::Event;

namespace {

constexpr std::size_t condition_budget = 25'000;  // nodes of the diagram that worlds without contradiction are drawn from

// The events that imply that there is no contradiction.
constexpr std::size_t claim_within[] = {Question::for_only, Question::against_only, Question::neither};
constexpr std::size_t chains_within[] = {Question::conditioned};

Reply exact_reply(const weighing::Figures& figures, const std::vector<double>& chances, bool slopes) {
    Reply reply;
    reply.values = figures.values(chances);
    if (slopes) reply.slopes = figures.slopes(chances);
    return reply;
}

Reply sampled_reply(const weighing::Sampler& sampler, const std::vector<double>& chances, const Profile& profile,
                    std::uint64_t seed, bool slopes) {
    weighing::SamplePlan plan;
    plan.seed = seed;
    plan.enough = weighing::worlds_for(profile.half_width);
    plan.most_worlds = profile.most_worlds;
    plan.least = profile.least_worlds;
    plan.slopes = slopes;
    weighing::Tally tally = sampler.run(chances, plan);
    Reply reply;
    reply.method = Method::sampled;
    reply.worlds = tally.worlds;
    reply.values = std::move(tally.values);
    reply.slopes = std::move(tally.slopes);
    reply.normalised = tally.kept >= profile.least_worlds;
    reply.half_width = tally.free_worlds > 0 ? weighing::half_width_of(tally.free_worlds) : 0;
    if (reply.normalised) reply.half_width = std::max(reply.half_width, weighing::half_width_of(tally.kept));
    if (reply.half_width == 0) reply.half_width = weighing::half_width_of(tally.worlds);
    return reply;
}

// That a goal is reached along arrows whose claims have these events. Each round lets every way be one arrow longer; a
// way without circles has fewer arrows than there are nodes.
Event goal_reached(weighing::Lineage& events, const ClaimWeb& web, const std::vector<Event>& holds) {
    std::vector<std::vector<ClaimWeb::Arrow>> into(web.nodes);
    for (const ClaimWeb::Arrow& arrow : web.arrows)
        if (arrow.to != web.start) into[arrow.to].push_back(arrow);
    std::vector<Event> reached(web.nodes, Event::never());
    reached[web.start] = Event::always();
    bool changed = true;
    for (std::uint32_t round = 1; changed && round < web.nodes; ++round) {
        changed = false;
        for (std::uint32_t node = 0; node < web.nodes; ++node) {
            if (into[node].empty()) continue;
            std::vector<Event> ways;
            for (const ClaimWeb::Arrow& arrow : into[node]) ways.push_back(events.both(reached[arrow.from], holds[arrow.claim]));
            const Event now = events.any_of(ways);
            changed = changed || now != reached[node];
            reached[node] = now;
        }
    }
    std::vector<Event> goals;
    for (const std::uint32_t goal : web.goals) goals.push_back(reached[goal]);
    return events.any_of(goals);
}

}  // namespace

std::unique_ptr<Question> Question::about_claim(Case its, std::size_t node_budget) {
    std::unique_ptr<Question> question(new Question(std::move(its)));
    CaseLineage& lineage = question->lineage_;
    weighing::Lineage& events = lineage.lineage();
    const Event supported = lineage.supported(0), refuted = lineage.refuted(0), consistent = lineage.consistent();
    const Event open[] = {consistent, !supported, !refuted};
    question->work_out({events.both(consistent, supported), events.both(consistent, refuted), events.all_of(open), consistent},
                       claim_within, node_budget);
    return question;
}

std::unique_ptr<Question> Question::along(Case its, const std::vector<std::vector<CaseIndex>>& chains,
                                          std::size_t node_budget) {
    std::unique_ptr<Question> question(new Question(std::move(its)));
    CaseLineage& lineage = question->lineage_;
    weighing::Lineage& events = lineage.lineage();
    std::vector<Event> any, any_uncontested;
    for (const auto& chain : chains) {
        std::vector<Event> all, all_uncontested;
        for (const CaseIndex claim : chain) {
            all.push_back(lineage.supported(claim));
            all_uncontested.push_back(events.both(lineage.supported(claim), !lineage.refuted(claim)));
        }
        any.push_back(events.all_of(all));
        any_uncontested.push_back(events.all_of(all_uncontested));
    }
    const Event holds = events.any_of(any), consistent = lineage.consistent();
    question->work_out({holds, events.both(holds, consistent), events.any_of(any_uncontested), consistent}, chains_within,
                       node_budget);
    return question;
}

std::unique_ptr<Question> Question::across(Case its, const ClaimWeb& web, std::size_t node_budget) {
    std::unique_ptr<Question> question(new Question(std::move(its)));
    CaseLineage& lineage = question->lineage_;
    weighing::Lineage& events = lineage.lineage();
    std::vector<Event> supported, uncontested;
    for (CaseIndex claim = 0; claim < web.claims.size(); ++claim) {
        supported.push_back(lineage.supported(claim));
        uncontested.push_back(events.both(lineage.supported(claim), !lineage.refuted(claim)));
    }
    const Event holds = goal_reached(events, web, supported), consistent = lineage.consistent();
    question->work_out({holds, events.both(holds, consistent), goal_reached(events, web, uncontested), consistent},
                       chains_within, node_budget);
    return question;
}

void Question::work_out(std::vector<Event> events, std::span<const std::size_t> within, std::size_t node_budget) {
    const auto order = lineage_.order();
    figures_ = std::make_unique<weighing::Figures>(lineage_.lineage(), events, node_budget, order);
    if (figures_->exact()) return;
    sampler_ = std::make_unique<weighing::Sampler>(*figures_, no_contradiction, within, condition_budget);
}

Reply Question::ask(const Assumptions& assumptions, const Profile& profile, std::uint64_t seed, bool slopes) {
    const std::vector<double> chances = Chances(case_, assumptions).of(lineage_.terms());
    if (sampler_) return sampled_reply(*sampler_, chances, profile, seed, slopes);
    // What holds in the graph itself is always worked out in the same way, so that it is the same bit for bit.
    if (!assumptions.none() || chances == known_chances_) {
        if (auto reply = updated(chances, slopes)) return *std::move(reply);
    }
    Reply reply = exact_reply(*figures_, chances, slopes);
    if (slopes) {
        known_chances_ = chances;
        known_ = reply;
    }
    return reply;
}

// The known reply, moved along the slope of the one chance that differs. Nothing where several differ.
std::optional<Reply> Question::updated(const std::vector<double>& chances, bool slopes) const {
    if (!known_ || known_chances_.size() != chances.size()) return std::nullopt;
    std::size_t differing = chances.size();
    for (std::size_t v = 0; v < chances.size(); ++v) {
        if (chances[v] == known_chances_[v]) continue;
        if (differing != chances.size()) return std::nullopt;
        differing = v;
    }
    if (differing == chances.size()) return known_;
    if (slopes) return std::nullopt;
    Reply reply;
    for (std::size_t i = 0; i < known_->values.size(); ++i) {
        const double moved = known_->values[i] + known_->slopes[i][differing] * (chances[differing] - known_chances_[differing]);
        reply.values.push_back(std::clamp(moved, 0.0, 1.0));
    }
    return reply;
}

}  // namespace saggar
