#include "queries/identify.h"

#include <fmt/format.h>

#include <algorithm>

#include "app/json_out.h"
#include "app/session.h"
#include "app/text/caution.h"
#include "app/text/notes.h"
#include "app/verbs/verbs.h"
#include "kg/model/fault.h"
#include "kg/model/vocabulary.h"
#include "kg/weigh/profile.h"
#include "queries/hazard.h"
#include "queries/identify_json.h"
#include "queries/statement.h"

namespace saggar::app {
namespace {

constexpr std::size_t most_excluded = 6;  // told one by one
constexpr std::size_t most_broader = 4;
constexpr std::size_t most_cited = 2;     // sources a reason names

class IdentifyWriter {
public:
    IdentifyWriter(Call& call, const Snapshot& graph, const IdentifyQuestion& question, const IdentifyAnswer& answer, const Profile& profile)
        : call_(call), graph_(graph), question_(question), answer_(answer), profile_(profile), notes_(graph) {}

    void write(std::size_t most) {
        for (const Sighting& one : question_.sightings)
            line(fmt::format("{}: {} {}", one.seen ? "seen" : "looked for, not there", words_of(one.relation), one.label), 0);
        if (answer_.times_clash) line("what is seen cannot all be of one time; dates exclude nothing here", 4);
        if (!answer_.separates) {
            line(call_.layout.strong("cannot say") + (answer_.candidates.empty() ? ": everything on record is excluded" : ": nothing seen tells what is on record apart"), 0);
        } else {
            write_candidates(most);
        }
        write_excluded();
        if (answer_.separates) write_broader();
        if (!answer_.candidates.empty()) write_next();
        if (!answer_.complete) line("not everything on record was weighed: there are more candidates, or more ways to what is seen, than the limits allow. Name something rarer, or a --kind with fewer", 0);
        write_conventions();
        if (shows_flagged()) write_caution(call_);
        notes_.write(*call_.out, call_.layout);
    }

private:
    void line(const std::string& text, std::size_t indent) {
        *call_.out << std::string(indent, ' ') << wrap(text, call_.layout.width, indent + 2) << '\n';
    }

    std::string words_of(const std::string& name) const {
        const Relation* known = graph_.vocabulary().find_relation(name);
        return known && !known->label.empty() ? known->label : name;
    }

    std::string cites(const std::vector<CellCitation>& sources) {
        std::vector<int> numbers;
        for (const CellCitation& one : sources)
            if (numbers.size() < most_cited) numbers.push_back(notes_.number_of(one.source));
        std::sort(numbers.begin(), numbers.end());
        return numbers.empty() ? "" : fmt::format(" [{}]", fmt::join(numbers, ","));
    }

    std::string statements(const std::vector<ClaimRef>& claims) const {
        std::string text;
        for (const ClaimRef ref : claims)
            if (const auto claim = graph_.claim(ref)) text += (text.empty() ? "" : ", and ") + statement(graph_, claim->claim);
        return text;
    }

    void write_candidates(std::size_t most) {
        line(call_.layout.strong(fmt::format("{} of {} candidates", std::min(most, answer_.candidates.size()), answer_.candidates.size())) +
                 fmt::format(" ({}), best first", plural()), 0);
        for (std::size_t i = 0; i < answer_.candidates.size() && i < most; ++i) {
            const Candidate& candidate = answer_.candidates[i];
            *call_.out << "    "
                       << wrap_with_tail(fmt::format("{}  {}", figure_text(candidate.fit, 0), graph_.label_of(candidate.thing.id)),
                                         graph_.key_of(candidate.thing.id), call_.layout, 11)
                       << '\n';
            write_reasons(candidate);
        }
    }

    std::string plural() const {
        const Kind* kind = graph_.vocabulary().find_kind(answer_.kind);
        return kind && !kind->plural.empty() ? kind->plural : answer_.kind;
    }

    void write_reasons(const Candidate& candidate) {
        std::vector<std::string> unknown;
        for (std::size_t k = 0; k < candidate.holdings.size(); ++k) {
            const Holding& holding = candidate.holdings[k];
            const Sighting& sighting = question_.sightings[k];
            if (!holding.says_something()) {
                if (sighting.object || sighting.value.type != Value::Type::date) unknown.push_back(sighting.label);
                continue;
            }
            if (holding.has > 0) {
                const std::string how = holding.claims.empty() ? "it is the thing seen" : statements(holding.claims);
                line(fmt::format("{}: {}, {}{}", sighting.seen ? "for" : "against", how, figure_text(holding.has, 0), cites(holding.cited_for)), 11);
            }
            if (holding.never > 0)
                line(fmt::format("{}: that it never had {}, {}{}", sighting.seen ? "against" : "for", sighting.label,
                                 figure_text(holding.never, 0), cites(holding.cited_against)), 11);
        }
        if (!unknown.empty()) line(fmt::format("not known: {}", fmt::join(unknown, ", ")), 11);
    }

    void write_excluded() {
        if (answer_.excluded.empty()) return;
        line(call_.layout.strong(fmt::format("excluded: {}", answer_.excluded.size())) + ", by evidence against or by dates", 0);
        // Those that share a reason are told together.
        std::vector<std::pair<std::string, std::vector<const Excluded*>>> groups;
        for (const Excluded& one : answer_.excluded) {
            const std::string reason = reason_of(one);
            auto at = std::find_if(groups.begin(), groups.end(), [&reason](const auto& group) { return group.first == reason; });
            if (at == groups.end()) at = groups.insert(groups.end(), {reason, {}});
            at->second.push_back(&one);
        }
        for (const auto& [reason, members] : groups) {
            std::string names;
            for (std::size_t i = 0; i < members.size() && i < most_excluded; ++i)
                names += (i == 0 ? "" : ", ") + graph_.label_of(members[i]->thing);
            if (members.size() > most_excluded) names += fmt::format(" and {} more", members.size() - most_excluded);
            const Excluded& first = *members.front();
            const std::string marks = first.sighting ? cites(first.holding.cited_against) : "";
            line(fmt::format("{}: {}{}", reason, names, marks), 4);
        }
    }

    std::string reason_of(const Excluded& one) const {
        if (one.sighting) return "never had " + question_.sightings[*one.sighting].label;
        const bool later = one.window.earliest > answer_.latest;
        return later ? "not made before " + time::to_text(one.window.earliest) + " (" + one.window.earliest_rule + ")"
                     : "not made after " + time::to_text(one.window.latest) + " (" + one.window.latest_rule + ")";
    }

    void write_broader() {
        std::string kind, text;
        std::size_t told = 0;
        const auto flush = [&] {
            if (!text.empty()) line(fmt::format("by {}: {}", kind, text), 0);
            text.clear();
            told = 0;
        };
        for (const BroaderFit& one : answer_.broader) {
            if (one.kind != kind) flush();
            kind = one.kind;
            if (++told <= most_broader) text += fmt::format("{}{} {}", text.empty() ? "" : ", ", graph_.label_of(one.thing), figure_text(one.fit, 0));
        }
        flush();
    }

    void write_next() {
        if (answer_.next.empty()) {
            if (answer_.candidates.size() > 1) line("nothing on record would tell these apart any further", 0);
            return;
        }
        line(call_.layout.strong("look next") + fmt::format("  (between the likeliest {}; expected gain in bits)", answer_.compared_next), 0);
        for (const NextLook& look : answer_.next) {
            *call_.out << "    "
                       << wrap_with_tail(fmt::format("{}  whether it {} {}{}", figure_text(look.gain, 0), words_of(look.relation), graph_.label_of(look.object),
                                                     is_flagged(graph_, look.object) ? "!" : ""),
                                         look.relation + " " + graph_.key_of(look.object), call_.layout, 11)
                       << '\n';
            line(fmt::format("if it does ({}): {}", figure_text(look.chance, 0), fits(look.if_there)), 11);
            line(fmt::format("if it does not: {}", fits(look.if_not)), 11);
            line("if it cannot be told: nothing changes", 11);
        }
    }

    std::string fits(const std::vector<std::pair<EntityId, double>>& all) const {
        std::string text;
        for (const auto& [thing, fit] : all) text += fmt::format("{}{} {}", text.empty() ? "" : ", ", graph_.label_of(thing), figure_text(fit, 0));
        return text;
    }

    void write_conventions() {
        const Identifying& its = profile_.identifying;
        line(fmt::format("fits begin alike and sum to 1 over what is on record and not excluded; what is not known of a thing counts as had "
                         "with chance {}, for all alike; a feature is seen by mistake with chance {}. Conventions of profile {}",
                         its.unknown, its.mistaken, answer_.profile), 0);
        line("this is no appraisal and no authentication, and says nothing of title: ask a licensed appraiser; local law decides", 0);
    }

    bool shows_flagged() const {
        return std::any_of(question_.sightings.begin(), question_.sightings.end(), [this](const Sighting& one) { return one.object && is_flagged(graph_, one.object); }) ||
               std::any_of(answer_.next.begin(), answer_.next.end(), [this](const NextLook& one) { return is_flagged(graph_, one.object); });
    }

    Call& call_;
    const Snapshot& graph_;
    const IdentifyQuestion& question_;
    const IdentifyAnswer& answer_;
    const Profile& profile_;
    NoteList notes_;
};

void read_sightings(const Call& call, const Snapshot& graph, Privacy& privacy, const std::string& option, bool seen, IdentifyQuestion& question) {
    const std::vector<std::string> texts = call.all(option);
    for (std::size_t i = 0; i < texts.size(); ++i) {
        Problems problems;
        const std::string where = texts.size() == 1 ? option : fmt::format("{} ({})", option, i + 1);
        const auto sighting = read_sighting(graph, privacy, texts[i], seen, where, problems);
        if (!sighting) {
            std::string text = to_text(problems.list().front());
            if (!text.empty() && text.back() == '\n') text.pop_back();
            throw UsageFault(text, "");
        }
        question.sightings.push_back(*sighting);
    }
}

int run_identify(Call& call) {
    const Session session = open_to_read(call);
    const Snapshot& graph = *session.snapshot;
    Privacy privacy(graph, call.with_private);
    IdentifyQuestion question;
    question.kind = call.get("--kind");
    question.with_private = call.with_private;
    read_sightings(call, graph, privacy, "--seen", true, question);
    read_sightings(call, graph, privacy, "--not-seen", false, question);
    const std::size_t most = call.count("--most", 5, 1, 1'000'000);
    Weigher weigher(graph);
    const IdentifyAnswer answer = identify(graph, weigher, question);
    if (call.json) {
        print(*call.out, to_json(answer, question, graph, weigher.profile(), most));
    } else {
        IdentifyWriter(call, graph, question, answer, weigher.profile()).write(most);
    }
    return answer.separates ? fine : trouble;
}

}  // namespace

Verb identify_verb() {
    return {"identify",
            "name an unmarked piece from what is seen on it, and say what to look at next",
            {},
            {{"--seen", "WORDS", "what is seen: a relation and its object", true},
             {"--not-seen", "WORDS", "what was looked for and is not there", true},
             {"--kind", "KIND", "what kind of thing it may be (usually the narrowest that pieces are examples of)"},
             {"--most", "N", "how many candidates are shown (5)"}},
            run_identify,
            "Example: saggar identify --seen 'has-feature feature:rope-handle' --seen 'article-of jug' --not-seen 'has-feature thumb-rest'\n"
            "Silence is not evidence against: what is not known of a candidate counts alike for all. Exit status 1: cannot say."};
}

}  // namespace saggar::app
