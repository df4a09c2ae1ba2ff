#include "kg/weigh/weigher.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <unordered_map>

#include "kg/model/fault.h"
#include "kg/store/snapshot.h"
#include "kg/weigh/gather.h"
#include "kg/weigh/grounds.h"
#include "kg/weigh/influence.h"
#include "kg/weigh/profile.h"
#include "kg/weigh/question.h"
#include "kg/weigh/sample.h"

namespace saggar {

namespace {

constexpr std::size_t most_remembered = 64;  // questions kept worked out

Profile profile_of(const Snapshot& snapshot) {
    if (snapshot.profile_text().empty() || snapshot.profile_text() == Profile::standard().document()) return Profile::standard();
    Problems problems;
    auto profile = Profile::parse(snapshot.profile_text(), problems);
    if (!profile) {
        throw UsageFault("the weighing profile stored with the graph is unsound: " + problems.list().front().message,
                         "load a sound one with `saggar profile load FILE`");
    }
    return *std::move(profile);
}

double ratio(double part, double whole) { return whole <= 0 ? 0 : std::min(1.0, part / whole); }

// The case as a ReadingShown list: evidence of the claim, then lists that leave it out.
std::vector<ReadingShown> shown_readings(Question& question) {
    const Case& its = question.its_case();
    ReadingEvents& events = question.lineage().readings();
    std::vector<ReadingShown> shown;
    for (const CaseIndex index : its.claims[0].readings) {
        const CaseReading& reading = its.readings[index];
        const SourceTerms& source = its.sources[reading.source];
        ReadingShown one;
        one.record = reading.id;
        one.is_listing = reading.is_list;
        one.source = source.id;
        one.stance = reading.against ? Stance::against : Stance::in_favour;
        one.reliability = reading.no_basis ? 0 : source.reliability * reading.share;
        const CaseIndex root = events.root_source(index);
        if (reading.no_basis) {
            one.role = ReadingShown::Role::no_basis;
        } else if (!reading.taken_back_by.empty()) {
            one.role = ReadingShown::Role::corrected;
        } else if (root != reading.source) {
            one.role = ReadingShown::Role::copy;
            one.root = its.sources[root].id;
        } else if (!source.copies.empty() && !reading.takes_back) {
            one.role = ReadingShown::Role::suspected;
            const auto from = its.source_of.find(source.copies.front().of);
            if (from != its.source_of.end()) one.root = its.sources[from->second].id;
        }
        shown.push_back(one);
    }
    return shown;
}

// Whether some dependence that matters here is not known at all: two readings meet in a family of that kind.
bool dependence_unknown(const Case& question) {
    for (const CaseFamily& family : question.families) {
        if (!family.unknown) continue;
        std::set<CaseIndex> read;
        for (const CaseReading& reading : question.readings) {
            const bool member = std::find(family.sources.begin(), family.sources.end(), reading.source) != family.sources.end();
            if (member && !reading.no_basis) read.insert(reading.source);
        }
        if (read.size() > 1) return true;
    }
    return false;
}

}  // namespace

struct Weigher::State {
    State(const Snapshot& its_snapshot, Profile its_profile)
        : snapshot(its_snapshot), profile(std::move(its_profile)), gatherer(snapshot, profile) {}

    const Snapshot& snapshot;
    Profile profile;
    Gatherer gatherer;
    std::unordered_map<ClaimRef, Masses> known, known_alone;
    std::map<std::string, std::unique_ptr<Question>> worked_out;

    Masses masses(ClaimRef claim, bool rivals);

    std::size_t budget(const WeighOptions& options) const { return options.node_budget ? options.node_budget : profile.nodes; }

    void must_be_in_force(ClaimRef claim) const {
        if (snapshot.claim(claim)) return;
        throw UsageFault("the claim is not in the graph at this entry", "look for it with `saggar find`");
    }

    // What tells questions apart; `what_if` changes chances only and does not belong to it.
    static std::string name_of(std::span<const Chain> chains, const WeighOptions& options, std::size_t nodes, char kind) {
        std::string name = fmt::format("{} {} {}", kind, nodes, options.rivals);
        for (const Chain& chain : chains) {
            name += '|';
            for (const ClaimRef claim : chain) name += fmt::format(" {}", claim.number);
        }
        std::vector<ContentId> without = options.without;
        std::sort(without.begin(), without.end());
        for (const ContentId& id : without) name += '-' + id.full();
        return name;
    }

    Case gather(std::span<const ClaimRef> asked, const WeighOptions& options) {
        return gatherer.gather(asked, {options.without.begin(), options.without.end()}, options.rivals);
    }

    Question& claim_question(ClaimRef claim, const WeighOptions& options) {
        const Chain chain{claim};
        return remembered(name_of({&chain, 1}, options, budget(options), 'c'), [&] {
            return Question::about_claim(gather(chain, options), budget(options));
        });
    }

    Question& chain_question(std::span<const Chain> chains, const WeighOptions& options) {
        return remembered(name_of(chains, options, budget(options), 'j'), [&] {
            std::vector<ClaimRef> asked;
            std::unordered_map<ClaimRef, CaseIndex> place;
            std::vector<std::vector<CaseIndex>> places;
            for (const Chain& chain : chains) {
                places.emplace_back();
                for (const ClaimRef claim : chain) {
                    const auto it = place.emplace(claim, static_cast<CaseIndex>(asked.size()));
                    if (it.second) asked.push_back(claim);
                    places.back().push_back(it.first->second);
                }
            }
            // The gatherer places the claims asked about first, in this order.
            return Question::along(gather(asked, options), places, budget(options));
        });
    }

    Question& web_question(const ClaimWeb& web, const WeighOptions& options) {
        std::string name = name_of({&web.claims, 1}, options, budget(options), 'w');
        for (const ClaimWeb::Arrow& arrow : web.arrows) name += fmt::format(" {},{},{}", arrow.from, arrow.to, arrow.claim);
        name += fmt::format(" from {} to {}", web.start, fmt::join(web.goals, ","));
        return remembered(name, [&] {
            return Question::across(gatherer.gather(web.claims, {options.without.begin(), options.without.end()}), web, budget(options));
        });
    }

    template <class Make>
    Question& remembered(const std::string& name, Make make) {
        const auto found = worked_out.find(name);
        if (found != worked_out.end()) return *found->second;
        if (worked_out.size() >= most_remembered) worked_out.clear();
        return *(worked_out[name] = make());
    }

    Assumptions assumptions(const Question& question, const WeighOptions& options) const {
        Assumptions made;
        for (const auto& [key, reliability] : options.what_if) {
            if (!(reliability >= 0 && reliability <= 1)) {
                throw UsageFault(fmt::format("{} is not a reliability", reliability), "give a number from 0 to 1");
            }
            snapshot.need(key);
            const auto place = question.its_case().source_of.find(key);
            if (place != question.its_case().source_of.end()) made.reliability[place->second] = reliability;
        }
        return made;
    }

    // The same question of the same graph draws the same worlds.
    std::uint64_t seed(const Question& question) const {
        std::uint64_t hash = 0xCBF29CE484222325ull ^ snapshot.entry();
        for (const CaseClaim& claim : question.its_case().claims) {
            for (const std::uint8_t byte : claim.id.bytes) hash = (hash ^ byte) * 0x100000001B3ull;
        }
        return hash;
    }

    JointWeight joint_weight(Question& question, const WeighOptions& options);

    Band band(Question& question, const Assumptions& usual, double figure, std::size_t numerator) const {
        Band band;
        band.usual = figure;
        const auto at = [&](double dependence) {
            Assumptions varied = usual;
            varied.dependence = dependence;
            const Reply reply = question.ask(varied, profile, seed(question), false);
            return ratio(reply.values[numerator], reply.values[Question::no_contradiction]);
        };
        band.independent = at(0);
        band.dependent = at(1);
        band.unknown = dependence_unknown(question.its_case());
        return band;
    }

    std::optional<Contradiction> worst(Question& question, const Assumptions& usual, std::size_t nodes) {
        std::optional<Contradiction> found;
        CaseLineage& lineage = question.lineage();
        const std::vector<double> chances = Chances(question.its_case(), usual).of(lineage.terms());
        for (CaseIndex claim = 0; claim < question.its_case().claims.size(); ++claim) {
            const weighing::Event events[] = {lineage.contradiction(claim)};
            if (events[0] == weighing::Event::never()) continue;
            const weighing::Figures figures(lineage.lineage(), events, nodes);
            if (!figures.exact()) continue;
            const double both = figures.values(chances)[0];
            if (both > 0 && (!found || both > found->both)) found = Contradiction{question.its_case().claims[claim].ref, both};
        }
        return found;
    }

    // Figures that both kinds of weight share. `half_width` is that of the normalised figure.
    template <class W>
    void fill_method(W& weight, const Reply& reply, const Question& question) const {
        weight.method = reply.method;
        weight.worlds = reply.worlds;
        weight.nodes = question.nodes();
        weight.profile = profile.title();
        if (reply.method == Method::sampled) {
            weight.normalised = reply.consistent >= profile.least_worlds;
            weight.half_width = weighing::half_width_of(weight.normalised ? reply.consistent : reply.worlds);
        }
        for (const CaseClaim& claim : question.its_case().claims) {
            if (!claim.bystander) weight.claims.push_back(claim.ref);
        }
    }
};

Weigher::Weigher(const Snapshot& snapshot) : Weigher(snapshot, profile_of(snapshot)) {}
Weigher::Weigher(const Snapshot& snapshot, Profile profile) : state_(std::make_unique<State>(snapshot, std::move(profile))) {}
Weigher::~Weigher() = default;
Weigher::Weigher(Weigher&&) noexcept = default;
Weigher& Weigher::operator=(Weigher&&) noexcept = default;

const Profile& Weigher::profile() const { return state_->profile; }

namespace {

Masses masses_of(const Reply& reply) {
    Masses masses;
    masses.for_only = reply.values[Question::for_only];
    masses.against_only = reply.values[Question::against_only];
    masses.neither = reply.values[Question::neither];
    masses.both = std::max(0.0, 1 - reply.values[Question::no_contradiction]);
    return masses;
}

}  // namespace

Masses Weigher::State::masses(ClaimRef claim, bool rivals) {
    auto& remembered = rivals ? known : known_alone;
    const auto found = remembered.find(claim);
    if (found != remembered.end()) return found->second;
    const auto question = Question::about_claim(gatherer.gather({&claim, 1}, {}, rivals), profile.nodes);
    return remembered[claim] = masses_of(question->ask({}, profile, seed(*question), false));
}

Masses Weigher::masses(ClaimRef claim) { return state_->masses(claim, true); }

double Weigher::support(ClaimRef claim) { return state_->masses(claim, true).support().value_or(0); }
double Weigher::support_alone(ClaimRef claim) { return state_->masses(claim, false).support().value_or(0); }

Weight Weigher::weigh(ClaimRef claim, const WeighOptions& options) {
    state_->must_be_in_force(claim);
    Question& question = state_->claim_question(claim, options);
    const Assumptions assumptions = state_->assumptions(question, options);
    const Reply reply = question.ask(assumptions, state_->profile, state_->seed(question), options.explain);
    Weight weight;
    weight.claim = claim;
    weight.masses = masses_of(reply);
    weight.support = weight.masses.support().value_or(0);
    weight.possibility = weight.masses.possibility().value_or(0);
    weight.clarity = clarity_of(weight.masses.both, state_->profile);
    weight.words = state_->profile.words().words_for(weight.support);
    weight.band = {weight.support, weight.support, weight.support, false};
    if (options.base_rate) weight.betting = betting_figure(weight.masses, *options.base_rate);
    state_->fill_method(weight, reply, question);
    if (!options.explain) return weight;
    Grounds grounds = grounds_of(question);
    weight.grounds_for = std::move(grounds.in_favour);
    weight.grounds_against = std::move(grounds.against);
    weight.influence = influence_of(question, reply, Question::for_only, assumptions);
    weight.band = state_->band(question, assumptions, weight.support, Question::for_only);
    weight.roots_for = roots_behind(question, 0, false);
    weight.roots_against = roots_behind(question, 0, true);
    weight.readings = shown_readings(question);
    weight.worst = state_->worst(question, assumptions, state_->budget(options));
    return weight;
}

JointWeight Weigher::joint(std::span<const Chain> chains, const WeighOptions& options) {
    return state_->joint_weight(state_->chain_question(chains, options), options);
}

JointWeight Weigher::joint(const ClaimWeb& web, const WeighOptions& options) {
    return state_->joint_weight(state_->web_question(web, options), options);
}

JointWeight Weigher::State::joint_weight(Question& question, const WeighOptions& options) {
    const Assumptions assumed = assumptions(question, options);
    const Reply reply = question.ask(assumed, profile, seed(question), options.explain);
    JointWeight weight;
    weight.raw = reply.values[Question::raw];
    weight.uncontested = reply.values[Question::uncontested];
    weight.consistent = reply.values[Question::no_contradiction];
    weight.conditioned = ratio(reply.values[Question::conditioned], weight.consistent);
    weight.band = {weight.conditioned, weight.conditioned, weight.conditioned, false};
    fill_method(weight, reply, question);
    weight.worst = worst(question, assumed, budget(options));
    if (!options.explain) return weight;
    weight.band = band(question, assumed, weight.conditioned, Question::conditioned);
    weight.influence = influence_of(question, reply, Question::conditioned, assumed);
    return weight;
}

}  // namespace saggar
