// Reads the rows of a run chart from claims.
#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <memory>

#include "kg/model/fault.h"
#include "kg/model/vocabulary.h"
#include "kg/time/span.h"
#include "queries/cite_date.h"
#include "queries/statement.h"
#include "viz/decimal_year.h"
#include "viz/draft.h"
#include "viz/notation.h"
#include "viz/run_chart.h"

namespace saggar::viz {

namespace {

constexpr double kLeastThatCounts = 0.2;  // the bound of the faintest line style
constexpr double kOpen = std::numeric_limits<double>::infinity();

struct DatedRelation {
    const char* name;
    RunMark first;
    std::optional<RunMark> last;  // set: the date is a run of its own, its end means this
};

// Which relation of the tableware vocabulary dates what.
constexpr DatedRelation kDated[] = {{"modelled-in", RunMark::modelled, {}},
                                    {"introduced-in", RunMark::introduced, {}},
                                    {"dropped-in", RunMark::dropped, {}},
                                    {"used-between", RunMark::introduced, RunMark::dropped},
                                    {"active-between", RunMark::introduced, RunMark::dropped},
                                    {"made-in-year", RunMark::made, {}}};

class RowReader {
public:
    RowReader(const Snapshot& snapshot, const RunOptions& options, Draft& draft)
        : snapshot_(snapshot), options_(options), draft_(draft) {
        conventions_.about = options.about_years;
    }

    RunRow read(EntityId thing) {
        RunRow row;
        row.key = snapshot_.key_of(thing);
        const Kind* kind = snapshot_.vocabulary().find_kind(snapshot_.kind_of(thing));
        row.kind = kind == nullptr ? std::string(snapshot_.kind_of(thing)) : kind->label;
        row.label = snapshot_.label_of(thing);
        add_events(thing, {}, row);
        if (options_.dated) add_solved(thing, row);
        if (options_.pieces) add_pieces(thing, row);
        std::stable_sort(row.events.begin(), row.events.end(), [](const RunEvent& a, const RunEvent& b) {
            return a.mark != b.mark ? a.mark < b.mark : a.earliest < b.earliest;
        });
        bound(row);
        return row;
    }

private:
    void add_events(EntityId thing, const std::string& note, RunRow& row) {
        for (const auto& dated : kDated) {
            const auto relation = snapshot_.relation_id(dated.name);
            if (!relation) continue;
            for (const auto& claim : snapshot_.claims_of(thing, relation)) add_claim(claim, dated, note, row);
        }
    }

    // The run that the dating of the thing comes to, with the claims that bind it.
    void add_solved(EntityId thing, RunRow& row) {
        const auto answer = options_.dated(thing);
        if (!answer || answer->run_start.empty() || answer->run_start == answer->run_end) return;
        SolvedRun run;
        for (const DatedPoint& point : answer->points) {
            const bool starts = point.point == answer->run_start;
            if (!starts && point.point != answer->run_end) continue;
            (starts ? run.from_low : run.to_low) = decimal_year(point.earliest, false);
            (starts ? run.from_high : run.to_high) = decimal_year(point.latest, true);
            const bool known = !time::is_limit(point.earliest) || !time::is_limit(point.latest);
            run.any = run.any || known;
            if (!known) continue;
            run.words += (run.words.empty() ? "" : "; ") + point.label + " " +
                         range_in_words(point.earliest, point.latest, options_.cite.dates);
            cite_bounds(point, run.cited);
        }
        for (const auto& contradiction : answer->contradictions)
            run.contradicted = run.contradicted || contradiction.set_aside.subject == thing;
        if (run.any) row.solved = std::move(run);
    }

    void cite_bounds(const DatedPoint& point, std::vector<int>& numbers) {
        for (const DatingBound& bound : point.bounds) {
            if (!bound.binds) continue;
            for (const ClaimRef ref : bound.because) {
                const auto claim = snapshot_.claim(ref);
                if (!claim || !draft_.may_show(*claim)) continue;
                for (const auto& evidence : claim->evidence) {
                    if (evidence.stance == Stance::in_favour && draft_.may_show(evidence))
                        numbers.push_back(draft_.cite(evidence));
                }
            }
        }
        std::sort(numbers.begin(), numbers.end());
        numbers.erase(std::unique(numbers.begin(), numbers.end()), numbers.end());
    }

    void add_pieces(EntityId thing, RunRow& row) {
        const auto instance = snapshot_.relation_id("instance-of"), of_shape = snapshot_.relation_id("of-shape");
        for (const auto ref : snapshot_.claims_about(thing)) {
            if (instance && ref.relation == instance) add_events(ref.subject, snapshot_.label_of(ref.subject), row);
            if (!of_shape || ref.relation != of_shape || !instance) continue;
            for (const auto piece : snapshot_.claims_about(ref.subject)) {
                if (piece.relation == instance) add_events(piece.subject, snapshot_.label_of(piece.subject), row);
            }
        }
    }

    void add_claim(const ClaimWithEvidence& claim, const DatedRelation& dated, const std::string& note, RunRow& row) {
        if (claim.claim.object_type != Value::Type::date || !draft_.may_show(claim)) return;
        const auto span = time::read_span(claim.claim.object_text, conventions_);
        if (!span) return;
        RunEvent event;
        event.mark = dated.first;
        event.note = note;
        event.date = date_in_words(claim.claim.object_text, options_.cite.dates);
        if (options_.figure) {
            const Figure figure = options_.figure(claim.claim.ref);
            event.support = figure.support;
            event.disputed = figure.disputed;
            if (figure.support.value_or(0) < options_.least_support) return;
        }
        for (const auto& evidence : claim.evidence) {
            if (!draft_.may_show(evidence)) continue;
            (evidence.stance == Stance::in_favour ? event.cited_for : event.cited_against)
                .push_back(draft_.cite(evidence));
        }
        event.earliest = decimal_year(span->earliest, false);
        event.latest = decimal_year(span->latest, true);
        if (!dated.last) return row.events.push_back(event);
        const double end = event.latest;
        event.latest = event.earliest;
        row.events.push_back(event);
        event.mark = *dated.last;
        event.earliest = event.latest = end;
        row.events.push_back(event);
    }

    // What is only denied, or hardly supported (a date its author took back), is named but does not shape the bar.
    static bool counts(const RunEvent& event) {
        const bool only_denied = event.cited_for.empty() && !event.cited_against.empty();
        return !only_denied && event.support.value_or(1) >= kLeastThatCounts;
    }

    // The certain part lies between the latest possible introduction and the earliest possible end, or between dated
    // pieces.
    static void bound(RunRow& row) {
        double from_low = kOpen, from_high = -kOpen, to_low = kOpen, to_high = -kOpen, made_low = kOpen,
               made_high = -kOpen;
        bool introduced = false, dropped = false, made = false;
        for (const auto& event : row.events) {
            if (!counts(event)) continue;
            if (event.mark == RunMark::introduced) {
                introduced = true;
                from_low = std::min(from_low, event.earliest);
                from_high = std::max(from_high, event.latest);
            } else if (event.mark == RunMark::dropped) {
                dropped = true;
                to_low = std::min(to_low, event.earliest);
                to_high = std::max(to_high, event.latest);
            } else if (event.mark == RunMark::made) {
                made = true;
                made_low = std::min(made_low, event.latest);
                made_high = std::max(made_high, event.earliest);
            }
        }
        row.any = !row.events.empty();
        row.possible_from = introduced ? from_low : made ? -kOpen : kOpen;
        row.possible_to = dropped ? to_high : introduced || made ? kOpen : -kOpen;
        row.certain_from = introduced ? from_high : made_low;
        row.certain_to = dropped ? to_low : made ? made_high : row.certain_from;
        if (!introduced && !made) row.certain_from = row.certain_to;
    }

    const Snapshot& snapshot_;
    const RunOptions& options_;
    Draft& draft_;
    time::Conventions conventions_;
};

std::string event_words(const RunEvent& event) {
    std::string text = event.date;
    if (event.support) text += fmt::format(" ({:.2f})", *event.support);
    if (!event.cited_for.empty()) text += " " + numbers_text(event.cited_for);
    if (!event.cited_against.empty()) text += " against " + numbers_text(event.cited_against);
    if (event.disputed) text += " disputed";
    return text;
}

}  // namespace

DatedOf dated_by(const Snapshot& snapshot, Weigher& weigher, bool with_private) {
    auto rules = std::make_shared<const TimeRules>(TimeRules::of(snapshot.vocabulary()));
    return [&snapshot, &weigher, rules, with_private](EntityId thing) -> std::optional<DatingAnswer> {
        DatingQuestion question;
        question.thing = thing;
        question.with_private = with_private;
        try {
            return date_thing(snapshot, weigher, *rules, question);
        } catch (const UsageFault&) {  // nothing of this kind is dated
            return std::nullopt;
        }
    };
}

std::string solved_words(const SolvedRun& run) {
    std::string text = run.words;
    if (!run.cited.empty()) text += " \u00B7 " + numbers_text(run.cited);
    if (run.contradicted) text += " \u00B7 a date that cannot hold with these is set aside";
    return text;
}

std::string_view run_mark_word(RunMark mark) {
    switch (mark) {
        case RunMark::modelled:
            return "modelled";
        case RunMark::introduced:
            return "introduced";
        case RunMark::dropped:
            return "dropped";
        case RunMark::made:
            return "dated piece";
    }
    return "";
}

RunChart run_chart(const Snapshot& snapshot, const std::vector<EntityId>& things, const RunOptions& options) {
    DraftOptions draft_options;
    draft_options.figure = options.figure;
    draft_options.with_private = options.with_private;
    draft_options.cite = options.cite;
    draft_options.made_from = options.made_from;
    draft_options.short_notes = true;
    Draft draft(snapshot, draft_options, "runs");
    RunChart chart;
    RowReader reader(snapshot, options, draft);
    for (const auto thing : things) {
        if (!draft.may_show(thing)) continue;
        draft.entity(thing);  // brings its caution
        chart.rows.push_back(reader.read(thing));
    }
    const std::string title =
        things.size() == 1 ? "When " + snapshot.label_of(things.front()) + " was made" : "When they were made";
    Diagram done =
        draft.finish(title, fmt::format("{} row{}. \u201CAbout\u201D means {} years either way, a convention.",
                                        chart.rows.size(), chart.rows.size() == 1 ? "" : "s", options.about_years));
    chart.title = std::move(done.title);
    chart.description = std::move(done.description);
    chart.made_from = std::move(done.made_from);
    chart.left_out = std::move(done.left_out);
    chart.citations = std::move(done.citations);
    chart.cautions = std::move(done.cautions);
    return chart;
}

std::vector<std::vector<std::string>> to_table(const RunChart& chart) {
    std::vector<std::vector<std::string>> table = {{"thing", "modelled", "introduced", "dropped", "dated pieces"}};
    const bool solved =
        std::any_of(chart.rows.begin(), chart.rows.end(), [](const RunRow& row) { return row.solved.has_value(); });
    if (solved) table.front().push_back("worked out");
    for (const auto& row : chart.rows) {
        std::vector<std::string> cells = {row.label, "", "", "", ""};
        for (const auto& event : row.events) {
            auto& cell = cells[1 + static_cast<std::size_t>(event.mark)];
            cell += (cell.empty() ? "" : "; ") + event_words(event);
        }
        for (std::size_t i = 1; i < cells.size(); ++i) {
            if (cells[i].empty()) cells[i] = "not known";
        }
        if (solved) cells.push_back(row.solved ? solved_words(*row.solved) : "not known");
        table.push_back(std::move(cells));
    }
    return table;
}

}  // namespace saggar::viz
