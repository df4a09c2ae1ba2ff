#include <fmt/format.h>

#include <algorithm>

#include "app/json_out.h"
#include "app/session.h"
#include "app/text/notes.h"
#include "app/verbs/verbs.h"
#include "kg/model/fault.h"
#include "kg/time/edtf_read.h"
#include "kg/time/edtf_write.h"
#include "kg/time/span.h"
#include "kg/time/written.h"
#include "queries/privacy.h"
#include "queries/dating_json.h"
#include "queries/statement.h"

namespace saggar::app {
namespace {

// "not before 1951-02-01, not after 1952-02-29".
std::string range_words(time::Day earliest, time::Day latest) {
    if (time::is_limit(earliest) && time::is_limit(latest)) return "not known";
    if (time::is_limit(latest)) return "not before " + time::to_text(earliest);
    if (time::is_limit(earliest)) return "not after " + time::to_text(latest);
    return fmt::format("not before {}, not after {}", time::to_text(earliest), time::to_text(latest));
}

class DateWriter {
public:
    DateWriter(Call& call, const Snapshot& graph, Weigher& weigher)
        : call_(call), graph_(graph), weigher_(weigher), notes_(graph) {}

    void write(const DatingAnswer& answer) {
        *call_.out << call_.layout.strong(graph_.label_of(answer.thing)) << "  "
                   << call_.layout.faint(graph_.key_of(answer.thing)) << '\n';
        for (const DatedPoint& point : answer.points) write_point(point);
        for (const DatingStruck& struck : answer.struck) {
            *call_.out << "not while " << claim_words(struck.claim, 10) << '\n';
            for (const ClaimRef claim : struck.because)
                if (claim != struck.claim) write_claim(claim, "    since ");
        }
        for (const DatingContradiction& one : answer.contradictions) write_contradiction(one);
        write_weak(answer);
        if (!answer.complete) *call_.out << "not everything in reach was taken into account\n";
    }

    void write_years(const DatingYears& years) {
        if (years.years.empty()) return;
        *call_.out << call_.layout.strong("by year")
                   << "  how far the evidence allows each year, and how far it supports it\n";
        std::vector<std::vector<std::string>> rows = {{"    year", "possible", "supported", ""}};
        const auto shown = [](const DatingYear& year) { return year.possible >= .005; };
        const auto first = std::find_if(years.years.begin(), years.years.end(), shown);
        const auto last = std::find_if(years.years.rbegin(), years.years.rend(), shown).base();
        for (auto at = first; at < last; ++at) {
            const DatingYear& year = *at;
            rows.push_back({fmt::format("    {}", year.year), figure_text(year.possible, years.half_width),
                            figure_text(year.supported, years.half_width), bar(year)});
        }
        *call_.out << table(rows, call_.layout);
        if (years.contradiction >= .0005)
            *call_.out << "    leaving out that the dates contradict each other: "
                       << figure_text(years.contradiction, years.half_width) << '\n';
        if (years.open_before) *call_.out << "    nothing bounds the beginning\n";
        if (years.open_after) *call_.out << "    nothing bounds the end\n";
        *call_.out << "    " << word_for(years.method) << ", by profile " << years.profile
                   << "; its numbers are conventions\n";
        if (!years.complete) *call_.out << "    only the tightest bounds were weighed; the true figures may be lower\n";
    }

    void write_notes() { notes_.write(*call_.out, call_.layout); }

private:
    // "#" is supported, "-" is possible; twenty cells.
    static std::string bar(const DatingYear& year) {
        const auto cells = [](double part) { return static_cast<std::size_t>(part * 20 + .5); };
        std::string text(cells(year.supported), '#');
        text.resize(std::max(text.size(), cells(year.possible)), '-');
        return text;
    }

    void write_point(const DatedPoint& point) {
        *call_.out << point.label << ": " << call_.layout.strong(range_words(point.earliest, point.latest)) << '\n';
        const bool all = call_.has("--all");
        std::size_t looser = 0;
        for (const DatingBound& bound : point.bounds) {
            if (bound.binds || all) {
                write_bound(bound);
            } else {
                ++looser;
            }
        }
        if (looser) *call_.out << fmt::format("    {} looser bounds; see them with --all\n", looser);
    }

    void write_bound(const DatingBound& bound) {
        *call_.out << "    " << (bound.is_earliest ? "not before " : "not after ") << time::to_text(bound.day)
                   << (bound.binds ? "" : "  (looser)") << '\n';
        for (const DatingStep& step : bound.steps) {
            if (!step.rule.empty()) {
                const std::string slack =
                    step.slack_months ? fmt::format(" (slack {} months, a convention)", step.slack_months) : "";
                *call_.out << "        " << wrap(step.rule + slack, call_.layout.width, 10) << '\n';
            }
            for (const ClaimRef claim : step.claims) write_claim(claim, "        ");
        }
    }

    std::string claim_words(ClaimRef ref, std::size_t indent) {
        const auto claim = graph_.claim(ref);
        if (!claim) return "";
        std::string marks;
        Privacy privacy(graph_, call_.with_private);
        for (const EvidenceRow& row : claim->evidence) {
            if (!privacy.may_show(row)) continue;
            marks +=
                fmt::format(" {}[{}]", row.stance == Stance::in_favour ? "for " : "against ", notes_.number_of(row));
        }
        const std::string text =
            fmt::format("{}: {}{}", statement(graph_, claim->claim), figure_text(weigher_.support_alone(ref), 0), marks);
        return wrap_with_tail(text, "claim:" + claim->claim.id.brief(), call_.layout, indent);
    }

    void write_claim(ClaimRef ref, const std::string& before) {
        *call_.out << before << claim_words(ref, before.size() + 2) << '\n';
    }

    void write_contradiction(const DatingContradiction& one) {
        *call_.out << call_.layout.strong("these cannot all hold") << '\n';
        for (const WeighedClaim& claim : one.claims) {
            write_claim(claim.claim, claim.claim == one.set_aside ? "    set aside: " : "    ");
        }
    }

    void write_weak(const DatingAnswer& answer) {
        if (answer.too_weak.empty()) return;
        *call_.out << fmt::format("supported less than {}, so not taken into account\n", answer.least_support);
        for (const WeighedClaim& claim : answer.too_weak) write_claim(claim.claim, "    ");
    }

    Call& call_;
    const Snapshot& graph_;
    Weigher& weigher_;
    NoteList notes_;
};

int date_key(Call& call) {
    const Session session = open_to_read(call);
    const Snapshot& graph = *session.snapshot;
    Weigher weigher(graph);
    const TimeRules rules = TimeRules::of(graph.vocabulary());
    DatingQuestion question;
    question.thing = need_thing(call, graph, call.operand("KEY"));
    question.with_private = call.with_private;
    question.least_support = call.number("--least", question.least_support, 0, 1);
    if (call.has("--south")) question.conventions.hemisphere = time::Hemisphere::south;
    const DatingAnswer answer = date_thing(graph, weigher, rules, question);
    DatingYears years;
    if (call.json || call.has("--years")) years = date_years(graph, weigher, rules, question);
    const bool known = std::any_of(answer.points.begin(), answer.points.end(),
                                   [](const DatedPoint& point) { return !point.bounds.empty(); });
    if (call.json) {
        print(*call.out, to_json(answer, years, graph));
        return known ? fine : trouble;
    }
    DateWriter writer(call, graph, weigher);
    writer.write(answer);
    writer.write_years(years);
    writer.write_notes();
    return known ? fine : trouble;
}

nlohmann::json day_or_null(time::Day day) {
    return time::is_limit(day) ? nlohmann::json(nullptr) : nlohmann::json(time::to_text(day));
}

// A date as people write it: what it is read as, and the days that means.
int read_written_dates(Call& call, const std::vector<time::WrittenDate>& dates) {
    time::Conventions conventions;
    if (call.has("--south")) conventions.hemisphere = time::Hemisphere::south;
    conventions.about = static_cast<int>(call.count("--about", 0, 0, 100));
    nlohmann::json all = nlohmann::json::array();
    for (const time::WrittenDate& date : dates) {
        const auto edtf = time::read_edtf(date.edtf);
        const time::Bounds bounds = time::bounds_of(*edtf, conventions);
        all.push_back({{"words", date.words},
                       {"label", date.label},
                       {"edtf", date.edtf},
                       {"earliest", day_or_null(bounds.earliest_start.day)},
                       {"latest", day_or_null(bounds.latest_end.day)}});
        if (call.json) continue;
        *call.out << date.words << " is read as " << call.layout.strong(date.edtf) << '\n';
        *call.out << "    starts " << range_words(bounds.earliest_start.day, bounds.latest_start.day) << '\n';
        *call.out << "    ends   " << range_words(bounds.earliest_end.day, bounds.latest_end.day) << '\n';
    }
    if (call.json) {
        const nlohmann::json& first = all.front();
        print(*call.out, {{"valid", true},
                          {"level", nullptr},
                          {"written", all},
                          {"normal", first["edtf"]},
                          {"earliest", first["earliest"]},
                          {"latest", first["latest"]},
                          {"problem", nullptr}});
    }
    return fine;
}

// What an EDTF expression means.
int read_expression(Call& call, const std::string& text) {
    const auto written =
        time::read_edtf(text) ? time::Read<std::vector<time::WrittenDate>>{} : time::read_edtf_or_written(text);
    if (written && !written->empty()) return read_written_dates(call, *written);
    const auto edtf = time::read_edtf(text);
    if (!edtf) {
        const Problem problem = time::problem_of(edtf.error, text);
        if (call.json) {
            print(*call.out, {{"valid", false},
                              {"level", nullptr},
                              {"earliest", nullptr},
                              {"latest", nullptr},
                              {"problem",
                               {{"id", problem.id},
                                {"column", problem.place.column},
                                {"length", problem.place.length},
                                {"message", problem.message},
                                {"next", problem.next_step}}}});
        } else {
            *call.out << to_text(problem);
        }
        return trouble;
    }
    time::Conventions conventions;
    if (call.has("--south")) conventions.hemisphere = time::Hemisphere::south;
    conventions.about = static_cast<int>(call.count("--about", 0, 0, 100));
    const time::Bounds bounds = time::bounds_of(*edtf, conventions);
    if (call.json) {
        print(*call.out, {{"valid", true},
                          {"level", edtf->level},
                          {"normal", time::write_edtf(*edtf)},
                          {"earliest", day_or_null(bounds.earliest_start.day)},
                          {"latest", day_or_null(bounds.latest_end.day)},
                          {"earliest_start", day_or_null(bounds.earliest_start.day)},
                          {"latest_start", day_or_null(bounds.latest_start.day)},
                          {"earliest_end", day_or_null(bounds.earliest_end.day)},
                          {"latest_end", day_or_null(bounds.latest_end.day)},
                          {"problem", nullptr}});
        return fine;
    }
    *call.out << fmt::format("{}  EDTF level {}\n", call.layout.strong(time::write_edtf(*edtf)), edtf->level);
    *call.out << "    starts " << range_words(bounds.earliest_start.day, bounds.latest_start.day) << '\n';
    *call.out << "    ends   " << range_words(bounds.earliest_end.day, bounds.latest_end.day) << '\n';
    return fine;
}

int run_date(Call& call) {
    const std::string text = call.get("--read");
    if (call.has("--read")) return read_expression(call, text);
    if (call.operand("KEY").empty())
        throw UsageFault("date what?", "name a thing, as in `saggar date piece:…`, or give --read EDTF");
    return date_key(call);
}

}  // namespace

Verb date_verb() {
    return {"date",
            "when a thing was made or in use: earliest, latest, and what bounds it",
            {{"KEY", "key of the thing", false}},
            {{"--read", "EDTF", "say what a date expression means instead"},
             {"--all", "", "also the bounds that do not bind because others are tighter"},
             {"--years", "", "also how far each year is possible and supported"},
             {"--least", "N", "claims supported less than this do not bind (0 to 1, usually 0.25; a convention)"},
             {"--south", "", "seasons are those of the southern hemisphere"},
             {"--about", "YEARS", "with --read: how far \"about\" reaches"}},
            run_date,
            "Every claim that dates the thing, or something that cannot be later or earlier than it, bounds it; the "
            "time rules are\n"
            "in the vocabulary. Where claims cannot all hold, the smallest such set is shown and its weakest claim set "
            "aside.\n"
            "Exit status 1: nothing bounds it, or the expression cannot be read."};
}

}  // namespace saggar::app
