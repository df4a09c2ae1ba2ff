#include <fmt/format.h>

#include <algorithm>

#include "app/drawing.h"
#include "app/session.h"
#include "app/tracing.h"
#include "app/verbs/verbs.h"
#include "app/whole_file.h"
#include "kg/model/fault.h"
#include "kg/model/vocabulary.h"
#include "kg/weigh/profile.h"
#include "kg/weigh/weigher.h"
#include "queries/privacy.h"
#include "viz/argument.h"
#include "viz/copying.h"
#include "viz/descent.h"
#include "viz/neighbourhood.h"
#include "viz/paint/paint.h"
#include "viz/trace_picture.h"

namespace saggar::app {
namespace {

// What every picture needs.
struct Desk {
    Call& call;
    const Snapshot& graph;
    Weigher& weigher;

    viz::DraftOptions draft() const {
        viz::DraftOptions options;
        options.figure = viz::figures_of(weigher);
        options.with_private = call.with_private;
        options.made_from = made_from();
        return options;
    }
    std::string made_from() const {
        return "profile " + weigher.profile().title() + (call.as_of.empty() ? "" : ", as of " + call.as_of);
    }
    std::vector<std::string> things() const { return call.all("THING"); }
    std::vector<EntityId> entities() const {
        std::vector<EntityId> ids;
        for (const auto& key : things()) ids.push_back(need_thing(call, graph, key));
        return ids;
    }
    // Exactly one THING.
    std::string one(const char* what) const {
        if (things().size() != 1)
            throw UsageFault(fmt::format("a picture of this sort is of one {}", what),
                             "name exactly one after its sort");
        return things().front();
    }
};

Drawing of(viz::Diagram diagram) {
    Drawing drawing;
    drawing.diagram = std::move(diagram);
    return drawing;
}

Drawing draw_trace(const Desk& desk) {
    desk.one("thing to start from");
    return of(viz::trace_picture(
        desk.graph, trace(desk.graph, desk.weigher, trace_question(desk.call, desk.graph, "THING")), desk.draft()));
}

ClaimRef drawn_claim(const Desk& desk, const std::string& text) {
    const ClaimRef ref = need_claim(desk.graph, text);
    if (!Privacy(desk.graph, desk.call.with_private).may_show(ref))
        throw UsageFault("this claim is marked private", "see it with --with-private");
    return ref;
}

Drawing draw_weigh(const Desk& desk) {
    viz::ArgumentOptions options;
    options.whole = desk.call.has("--whole");
    return of(
        viz::argument(desk.graph, desk.weigher.weigh(drawn_claim(desk, desk.one("claim"))), options, desk.draft()));
}

// The claims named; of a single one also its rivals, where there can be at most one.
Drawing draw_dispute(const Desk& desk) {
    std::vector<ClaimRef> claims;
    for (const auto& text : desk.things()) claims.push_back(drawn_claim(desk, text));
    if (claims.empty())
        throw UsageFault("no claim is named", "name the claim in dispute, by its id or as \"subject relation object\"");
    const auto* relation = desk.graph.vocabulary().find_relation(desk.graph.relation_name(claims.front().relation));
    if (claims.size() == 1 && relation != nullptr && relation->at_most_one) {
        for (const auto& other : desk.graph.claims_of(claims.front().subject, claims.front().relation)) {
            if (other.claim.ref != claims.front()) claims.push_back(other.claim.ref);
        }
    }
    std::vector<Weight> views;
    for (const auto claim : claims) views.push_back(desk.weigher.weigh(claim));
    return of(viz::dispute(desk.graph, views, desk.draft()));
}

Drawing draw_around(const Desk& desk) {
    viz::NeighbourhoodOptions options;
    options.depth = desk.call.count("--depth", 1, 1, 10);
    for (const auto& kind : desk.call.all("--only")) {
        if (desk.graph.vocabulary().find_kind(kind) == nullptr) {
            throw UsageFault(
                "there is no kind " + kind + Vocabulary::suggestion(desk.graph.vocabulary().nearest_kind(kind)),
                "see `saggar show vocabulary`");
        }
        options.only.insert(kind);
    }
    options.least_support = desk.call.number("--support", 0, 0, 1);
    return of(viz::neighbourhood(desk.graph, need_thing(desk.call, desk.graph, desk.one("thing")), options, desk.draft()));
}

Drawing draw_descent(const Desk& desk) { return of(viz::descent(desk.graph, desk.entities(), {}, desk.draft())); }

Drawing draw_copying(const Desk& desk) {
    const auto sources = desk.entities();
    if (sources.size() > 1)
        throw UsageFault("a picture of this sort is of one source, or of all", "name one source or none");
    return of(viz::copying(desk.graph, sources.empty() ? std::nullopt : std::optional(sources.front()), desk.draft()));
}

// All things of a kind, by key.
std::vector<EntityId> of_kind(const Snapshot& graph, const std::string& kind) {
    std::vector<EntityId> ids;
    for (const auto& key : graph.keys_with_prefix(kind + ":", 10'000)) ids.push_back(graph.need(key));
    return ids;
}

std::vector<EntityId> named_or_shapes(const Desk& desk) {
    const auto named = desk.entities();
    return named.empty() ? of_kind(desk.graph, "shape") : named;
}

Drawing draw_runs(const Desk& desk) {
    viz::RunOptions options;
    options.figure = viz::figures_of(desk.weigher);
    options.dated = viz::dated_by(desk.graph, desk.weigher, desk.call.with_private);
    options.least_support = desk.call.number("--support", 0, 0, 1);
    options.pieces = desk.call.has("--pieces");
    options.with_private = desk.call.with_private;
    options.about_years = desk.weigher.profile().about_years;
    options.made_from = desk.made_from();
    Drawing drawing;
    drawing.runs = viz::run_chart(desk.graph, named_or_shapes(desk), options);
    return drawing;
}

Drawing draw_grid(const Desk& desk) {
    viz::GridOptions options;
    options.figure = viz::figures_of(desk.weigher);
    options.relation = desk.call.get("--relation", options.relation);
    for (const auto& key : desk.call.all("--column")) options.columns.push_back(desk.graph.need(key));
    options.most_columns = desk.call.count("--columns", options.most_columns, 1, 1000);
    options.with_private = desk.call.with_private;
    options.made_from = desk.made_from();
    if (desk.graph.vocabulary().find_relation(options.relation) == nullptr) {
        throw UsageFault("there is no relation " + options.relation +
                             Vocabulary::suggestion(desk.graph.vocabulary().nearest_relation(options.relation)),
                         "see `saggar show vocabulary`");
    }
    Drawing drawing;
    drawing.grid = viz::grid(desk.graph, named_or_shapes(desk), options);
    return drawing;
}

Drawing draw_date(const Desk& desk) {
    const TimeRules rules = TimeRules::of(desk.graph.vocabulary());
    DatingQuestion question;
    question.thing = need_thing(desk.call, desk.graph, desk.one("thing"));
    question.with_private = desk.call.with_private;
    const DatingAnswer answer = date_thing(desk.graph, desk.weigher, rules, question);
    Drawing drawing;
    drawing.years =
        viz::year_band(desk.graph, answer, date_years(desk.graph, desk.weigher, rules, question), desk.draft());
    return drawing;
}

struct Sort {
    const char* word;
    Drawing (*draw)(const Desk&);
};
constexpr Sort kSorts[] = {{"trace", draw_trace},   {"weigh", draw_weigh},     {"dispute", draw_dispute},
                           {"around", draw_around}, {"descent", draw_descent}, {"copying", draw_copying},
                           {"runs", draw_runs},     {"grid", draw_grid},       {"date", draw_date}};

int run_draw(Call& call) {
    const auto word = call.operand("WHAT");
    const auto* sort =
        std::find_if(std::begin(kSorts), std::end(kSorts), [&word](const Sort& s) { return word == s.word; });
    if (sort == std::end(kSorts)) {
        std::string words;
        for (const auto& known : kSorts) words += (words.empty() ? "" : ", ") + std::string(known.word);
        throw UsageFault("there is no picture of the sort \"" + word + "\"", "use one of: " + words);
    }
    const Session session = open_to_read(call);
    Weigher weigher(*session.snapshot);
    const Drawing drawing = sort->draw({call, *session.snapshot, weigher});
    const auto file = call.get("--output", "-");
    const auto format = picture_format(call.get("--as"), file, drawing);
    write_whole(file,
                picture_bytes(drawing, format, call.layout, call.number("--dpi", viz::kPrintResolution, 36, 1200)),
                *call.out);
    if (file != "-") *call.err << "drawn: " << file << '\n';
    return fine;
}

}  // namespace

Verb draw_verb() {
    auto options = trace_options();
    options.insert(options.begin(), {{"-o,--output", "FILE", "where to (.svg .pdf .png .dot; else standard output)"},
                                     {"--as", "FORMAT", "svg, pdf, png, dot or table, whatever the file is called"},
                                     {"--dpi", "N", "PNG: dots to the inch (300)"}});
    options.insert(options.end(), {{"--depth", "N", "around: how many steps (1)"},
                                   {"--only", "KIND", "around: only things of this kind", true},
                                   {"--whole", "", "weigh: the evidence of premises and rivals too"},
                                   {"--support", "LEAST", "around, runs: only claims of at least this support"},
                                   {"--pieces", "", "runs: dated pieces too"},
                                   {"--relation", "NAME", "grid: from rows to columns (comprises)"},
                                   {"--column", "KEY", "grid: only these columns, in this order", true},
                                   {"--columns", "N", "grid: how many columns at most (40)"}});
    return {"draw",
            "pictures fit to publish, with their citations",
            {{"WHAT", "trace, weigh, dispute, around, descent, copying, runs, grid or date"},
             {"THING", "what it is of: keys, or claims by id or as \"subject relation object\"", false, true}},
            options,
            run_draw,
            "trace THING     the chains that `saggar trace` finds (takes its options)\n"
            "weigh CLAIM     what speaks for and against a claim; with --whole everything its weight rests on\n"
            "dispute CLAIM…  rival claims side by side\n"
            "around THING    what claims join to it\n"
            "descent [THING…]  what was replaced by what, what was borrowed from where\n"
            "copying [SOURCE]  which source copied which\n"
            "date THING      how far each year is possible and supported\n"
            "runs [THING…]   when things were made (all shapes)\n"
            "grid [THING…]   what each of them comprises, or another relation\n"
            "How the pictures are to be read: viz/NOTATION.md. Weights are support as the profile has it, not "
            "probabilities of truth."};
}

}  // namespace saggar::app
