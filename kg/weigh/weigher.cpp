#include "kg/weigh/weigher.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstring>
#include <functional>
#include <map>
#include <set>
#include <unordered_map>

#include "kg/model/fault.h"
#include "kg/store/snapshot.h"
#include "kg/weigh/answer_book.h"
#include "kg/weigh/case_digest.h"
#include "kg/weigh/gather.h"
#include "kg/weigh/grounds.h"
#include "kg/weigh/influence.h"
#include "kg/weigh/profile.h"
#include "kg/weigh/question.h"
#include "kg/weigh/readings_shown.h"
#include "kg/weigh/sample.h"

namespace saggar {

namespace {

constexpr std::size_t most_remembered = 64;  // questions kept worked out
constexpr std::size_t short_try = 2'000;     // nodes for one claim's contradiction, where the whole is sampled

Profile profile_of(const Snapshot& snapshot) {
    if (snapshot.profile_text().empty() || snapshot.profile_text() == Profile::standard().document())
        return Profile::standard();
    Problems problems;
    auto profile = Profile::parse(snapshot.profile_text(), problems);
    if (!profile) {
        throw UsageFault("the weighing profile stored with the graph is unsound: " + problems.list().front().message,
                         "load a sound one with `saggar profile load FILE`");
    }
    return *std::move(profile);
}

// The same question of the same evidence draws the same worlds.
std::uint64_t seed_of(const ContentId& digest) {
    std::uint64_t seed;
    std::memcpy(&seed, digest.bytes.data(), sizeof seed);
    return seed;
}

double ratio(double part, double whole) { return whole <= 0 ? 0 : std::min(1.0, part / whole); }

}  // namespace

struct Weigher::State {
    State(const Snapshot& its_snapshot, Profile its_profile, std::shared_ptr<AnswerBook> its_book)
        : snapshot(its_snapshot),
          profile(std::move(its_profile)),
          gatherer(snapshot, profile),
          book(std::move(its_book)),
          profile_mark(ContentHash("profile").field(profile.document()).finish()) {}

    // A question whose case is read; worked out when that is needed.
    struct Asked {
        Case its;
        std::function<std::unique_ptr<Question>(Case)> make;
        std::string form;  // what is asked of the case
        ContentId digest;  // of the case
        std::unique_ptr<Question> question;

        Question& worked_out() {
            if (!question) question = make(std::move(its));
            return *question;
        }
    };

    const Snapshot& snapshot;
    Profile profile;
    Gatherer gatherer;
    std::shared_ptr<AnswerBook> book;
    ContentId profile_mark;
    std::unordered_map<ClaimRef, Masses> known, known_alone;
    std::map<std::string, Asked> asked_before;

    Masses masses(ClaimRef claim, bool rivals);
    Masses supposed(const Claim& claim);

    std::size_t budget(const WeighOptions& options) const {
        return options.node_budget ? options.node_budget : profile.nodes;
    }

    void must_be_in_force(ClaimRef claim) const {
        if (snapshot.claim(claim)) return;
        throw UsageFault("the claim is not in the graph at this entry", "look for it with `saggar find`");
    }

    // What tells questions of one snapshot apart; `what_if` changes chances only and does not belong to it.
    static std::string name_of(std::span<const Chain> chains, const WeighOptions& options, const std::string& form) {
        std::string name = fmt::format("{} {}", form, options.rivals);
        for (const Chain& chain : chains) {
            name += '|';
            for (const ClaimRef claim : chain) name += fmt::format(" {}", claim.number);
        }
        std::vector<ContentId> without = options.without;
        std::sort(without.begin(), without.end());
        for (const ContentId& id : without) name += '-' + id.full();
        for (const std::string& key : std::set<std::string>(options.without_sources.begin(), options.without_sources.end()))
            name += '/' + key;
        return name;
    }

    Asked& about_claim(ClaimRef claim, const WeighOptions& options) {
        const Chain chain{claim};
        const std::size_t nodes = budget(options);
        return remembered(fmt::format("claim {}", nodes), {&chain, 1}, chain, options,
                          [nodes](Case its) { return Question::about_claim(std::move(its), nodes); });
    }

    Asked& along_chains(std::span<const Chain> chains, const WeighOptions& options) {
        std::vector<ClaimRef> asked;
        std::unordered_map<ClaimRef, CaseIndex> place;
        std::vector<std::vector<CaseIndex>> places;
        const std::size_t nodes = budget(options);
        std::string form = fmt::format("chains {}", nodes);
        for (const Chain& chain : chains) {
            places.emplace_back();
            form += '|';
            for (const ClaimRef claim : chain) {
                const auto it = place.emplace(claim, static_cast<CaseIndex>(asked.size()));
                if (it.second) asked.push_back(claim);
                places.back().push_back(it.first->second);
                form += fmt::format(" {}", it.first->second);
            }
        }
        // The gatherer places the claims asked about first, in this order.
        return remembered(form, chains, asked, options,
                          [nodes, places](Case its) { return Question::along(std::move(its), places, nodes); });
    }

    Asked& across_web(const ClaimWeb& web, const WeighOptions& options) {
        const std::size_t nodes = budget(options);
        std::string form = fmt::format("web {} of {}:", nodes, web.nodes);
        for (const ClaimWeb::Arrow& arrow : web.arrows)
            form += fmt::format(" {},{},{}", arrow.from, arrow.to, arrow.claim);
        form += fmt::format(" from {} to {}", web.start, fmt::join(web.goals, ","));
        return remembered(form, {&web.claims, 1}, web.claims, options,
                          [nodes, web](Case its) { return Question::across(std::move(its), web, nodes); });
    }

    // The question of this form about these claims, its case read at the first time.
    template <class Make>
    Asked& remembered(const std::string& form, std::span<const Chain> chains, std::span<const ClaimRef> claims,
                      const WeighOptions& options, Make make) {
        const std::string name = name_of(chains, options, form);
        const auto found = asked_before.find(name);
        if (found != asked_before.end()) return found->second;
        if (asked_before.size() >= most_remembered) asked_before.clear();
        Asked& asked = asked_before[name];
        LeftOut left_out;
        left_out.records.insert(options.without.begin(), options.without.end());
        for (const std::string& key : options.without_sources) left_out.sources.insert(snapshot.need(key));
        asked.its = gatherer.gather(claims, left_out, options.rivals);
        asked.digest = digest_of(asked.its);
        asked.form = form;
        asked.make = make;
        return asked;
    }

    // The id under which the book keeps the answer.
    ContentId mark_of(const Asked& asked, const WeighOptions& options) const {
        ContentHash hash("answer");
        hash.field(asked.digest.full()).field(profile_mark.full()).field(asked.form);
        hash.field(options.explain ? "explained" : "figures");
        hash.field(options.base_rate ? fmt::format("{}", *options.base_rate) : "");
        return hash.finish();
    }

    // From the book where it has it; else worked out, and kept.
    template <class W, class WorkOut>
    W answer(const Asked& asked, const WeighOptions& options, WorkOut work_out) {
        if (!book || !options.what_if.empty()) return work_out();  // a what-if is a step along a slope
        const ContentId mark = mark_of(asked, options);
        if (const auto kept = book->find(mark)) return std::get<W>(*kept);
        W fresh = work_out();
        book->keep(mark, fresh);
        return fresh;
    }

    void must_make_sense(const WeighOptions& options) const {
        for (const auto& [key, reliability] : options.what_if) {
            if (!(reliability >= 0 && reliability <= 1))
                throw UsageFault(fmt::format("{} is not a reliability", reliability), "give a number from 0 to 1");
            snapshot.need(key);
        }
    }

    Assumptions assumptions(const Question& question, const WeighOptions& options) const {
        Assumptions made;
        for (const auto& [key, reliability] : options.what_if) {
            const auto place = question.its_case().source_of.find(key);
            if (place != question.its_case().source_of.end()) made.reliability[place->second] = reliability;
        }
        return made;
    }

    Weight weight(Asked& asked, ClaimRef claim, const WeighOptions& options);
    JointWeight joint(Asked& asked, const WeighOptions& options);

    Band band(Asked& asked, const Assumptions& usual, double figure, std::size_t numerator) const {
        Question& question = asked.worked_out();
        Band band;
        band.usual = figure;
        const auto at = [&](double dependence) {
            Assumptions varied = usual;
            varied.dependence = dependence;
            const Reply reply = question.ask(varied, profile, seed_of(asked.digest), false);
            return ratio(reply.values[numerator], reply.values[Question::no_contradiction]);
        };
        band.independent = at(0);
        band.dependent = at(1);
        band.unknown = dependence_unknown(question.its_case());
        return band;
    }

    // Where the question itself is past the budget, a claim gets no more than a short try, and those left are sampled
    // together: a hundred tries given up would take longer than the answer.
    std::optional<Contradiction> worst(Asked& asked, const Assumptions& usual, std::size_t nodes) {
        Question& question = asked.worked_out();
        if (!question.exact()) nodes = std::min(nodes, short_try);
        std::optional<Contradiction> found;
        const auto look_at = [&](CaseIndex claim, double both) {
            if (both > 0 && (!found || both > found->both)) found = Contradiction{question.its_case().claims[claim].ref, both};
        };
        std::vector<CaseIndex> left;
        std::vector<weighing::Event> left_events;
        CaseLineage& lineage = question.lineage();
        const std::vector<double> chances = Chances(question.its_case(), usual).of(lineage.terms());
        for (CaseIndex claim = 0; claim < question.its_case().claims.size(); ++claim) {
            const weighing::Event events[] = {lineage.contradiction(claim)};
            if (events[0] == weighing::Event::never()) continue;
            const weighing::Figures figures(lineage.lineage(), events, nodes);
            if (figures.exact()) {
                look_at(claim, figures.values(chances)[0]);
            } else {
                left.push_back(claim);
                left_events.push_back(events[0]);
            }
        }
        if (left.empty() || question.exact()) return found;
        weighing::SamplePlan plan;
        plan.seed = seed_of(asked.digest);
        plan.enough = weighing::worlds_for(profile.half_width);
        const weighing::Figures open(lineage.lineage(), left_events, 0);
        const weighing::Tally tally = weighing::Sampler(open).run(chances, plan);
        for (std::size_t i = 0; i < left.size(); ++i) look_at(left[i], tally.values[i]);
        return found;
    }

    // Figures that both kinds of weight share. `half_width` is that of the normalised figure.
    template <class W>
    void fill_method(W& weight, const Reply& reply, const Question& question) const {
        weight.method = reply.method;
        weight.worlds = reply.worlds;
        weight.nodes = question.nodes();
        weight.profile = profile.title();
        weight.normalised = reply.normalised;
        weight.half_width = reply.half_width;
        for (const CaseClaim& claim : question.its_case().claims) {
            if (!claim.bystander) weight.claims.push_back(claim.ref);
        }
    }
};

Weigher::Weigher(const Snapshot& snapshot, std::shared_ptr<AnswerBook> book)
    : state_(std::make_unique<State>(snapshot, profile_of(snapshot), std::move(book))) {}
Weigher::Weigher(const Snapshot& snapshot, Profile profile)
    : state_(std::make_unique<State>(snapshot, std::move(profile), nullptr)) {}
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
    Case its = gatherer.gather({&claim, 1}, {}, rivals);
    const ContentId digest = digest_of(its);
    const ContentId mark = ContentHash("masses").field(digest.full()).field(profile_mark.full()).finish();
    if (book) {
        if (const auto kept = book->find(mark)) return remembered[claim] = std::get<Masses>(*kept);
    }
    const auto question = Question::about_claim(std::move(its), profile.nodes);
    const Masses fresh = masses_of(question->ask({}, profile, seed_of(digest), false));
    if (book) book->keep(mark, fresh);
    return remembered[claim] = fresh;
}

Masses Weigher::State::supposed(const Claim& claim) {
    auto its = gatherer.gather_supposed(claim);
    if (!its) return {};
    const ContentId digest = digest_of(*its);
    const auto question = Question::about_claim(*std::move(its), profile.nodes);
    return masses_of(question->ask({}, profile, seed_of(digest), false));
}

Masses Weigher::masses(ClaimRef claim) { return state_->masses(claim, true); }
Masses Weigher::masses_if_claimed(const Claim& claim) {
    const auto known = state_->snapshot.find_claim(claim);
    return known ? masses(*known) : state_->supposed(claim);
}

double Weigher::support(ClaimRef claim) { return state_->masses(claim, true).support().value_or(0); }
double Weigher::support_alone(ClaimRef claim) { return state_->masses(claim, false).support().value_or(0); }

Weight Weigher::weigh(ClaimRef claim, const WeighOptions& options) {
    state_->must_be_in_force(claim);
    state_->must_make_sense(options);
    State::Asked& asked = state_->about_claim(claim, options);
    return state_->answer<Weight>(asked, options, [&] { return state_->weight(asked, claim, options); });
}

JointWeight Weigher::joint(std::span<const Chain> chains, const WeighOptions& options) {
    state_->must_make_sense(options);
    State::Asked& asked = state_->along_chains(chains, options);
    return state_->answer<JointWeight>(asked, options, [&] { return state_->joint(asked, options); });
}

JointWeight Weigher::joint(const ClaimWeb& web, const WeighOptions& options) {
    state_->must_make_sense(options);
    State::Asked& asked = state_->across_web(web, options);
    return state_->answer<JointWeight>(asked, options, [&] { return state_->joint(asked, options); });
}

Weight Weigher::State::weight(Asked& asked, ClaimRef claim, const WeighOptions& options) {
    Question& question = asked.worked_out();
    const Assumptions assumed = assumptions(question, options);
    const Reply reply = question.ask(assumed, profile, seed_of(asked.digest), options.explain);
    Weight weight;
    weight.claim = claim;
    weight.masses = masses_of(reply);
    weight.support = weight.masses.support().value_or(0);
    weight.possibility = weight.masses.possibility().value_or(0);
    weight.clarity = clarity_of(weight.masses.both, profile);
    weight.words = profile.words().words_for(weight.support);
    weight.band = {weight.support, weight.support, weight.support, false};
    if (options.base_rate) weight.betting = betting_figure(weight.masses, *options.base_rate);
    fill_method(weight, reply, question);
    if (!options.explain) return weight;
    Grounds grounds = grounds_of(question);
    weight.grounds_for = std::move(grounds.in_favour);
    weight.grounds_against = std::move(grounds.against);
    weight.influence = influence_of(question, reply, Question::for_only, assumed);
    weight.band = band(asked, assumed, weight.support, Question::for_only);
    weight.roots_for = roots_behind(question, 0, false);
    weight.roots_against = roots_behind(question, 0, true);
    weight.readings = shown_readings(question);
    weight.worst = worst(asked, assumed, budget(options));
    return weight;
}

JointWeight Weigher::State::joint(Asked& asked, const WeighOptions& options) {
    Question& question = asked.worked_out();
    const Assumptions assumed = assumptions(question, options);
    const Reply reply = question.ask(assumed, profile, seed_of(asked.digest), options.explain);
    JointWeight weight;
    weight.raw = reply.values[Question::raw];
    weight.uncontested = reply.values[Question::uncontested];
    weight.consistent = reply.values[Question::no_contradiction];
    weight.conditioned = ratio(reply.values[Question::conditioned], weight.consistent);
    weight.band = {weight.conditioned, weight.conditioned, weight.conditioned, false};
    fill_method(weight, reply, question);
    weight.worst = worst(asked, assumed, budget(options));
    if (!options.explain) return weight;
    weight.band = band(asked, assumed, weight.conditioned, Question::conditioned);
    weight.influence = influence_of(question, reply, Question::conditioned, assumed);
    return weight;
}

}  // namespace saggar
