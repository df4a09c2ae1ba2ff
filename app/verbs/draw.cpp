#include <fmt/format.h>

#include <filesystem>
#include <fstream>
#include <functional>

#include "app/session.h"
#include "app/tracing.h"
#include "app/verbs/verbs.h"
#include "kg/model/fault.h"
#include "kg/weigh/profile.h"
#include "viz/argument.h"
#include "viz/copying.h"
#include "viz/descent.h"
#include "viz/dot.h"
#include "viz/figures.h"
#include "viz/neighbourhood.h"
#include "viz/paint/paint.h"
#include "viz/svg.h"
#include "viz/trace_picture.h"

namespace saggar::app {
namespace {

// What a picture is made from.
struct Drawing {
    const Call& call;
    const Snapshot& graph;
    Weigher& weigher;
    viz::DraftOptions draft;
    std::vector<std::string> about;  // operands behind the kind of picture
};

const std::string& only_one(const Drawing& drawing, const char* what) {
    if (drawing.about.size() != 1)
        throw UsageFault(fmt::format("this picture is of one {}", what), "see `saggar draw --help`");
    return drawing.about.front();
}

ClaimRef drawn_claim(const Drawing& drawing) {
    const ClaimRef ref = need_claim(drawing.graph, only_one(drawing, "claim"));
    if (drawing.graph.claim(ref)->claim.is_private && !drawing.call.with_private)
        throw UsageFault("this claim is marked private", "see it with --with-private");
    return ref;
}

viz::Diagram draw_trace(Drawing& drawing) {
    Call question = drawing.call;
    question.operands["FROM"] = {only_one(drawing, "trace: name where it starts")};
    return viz::trace_picture(drawing.graph,
                              trace(drawing.graph, drawing.weigher, trace_question(question, drawing.graph, "FROM")),
                              drawing.draft);
}

viz::Diagram draw_weigh(Drawing& drawing) {
    viz::ArgumentOptions options;
    options.whole = drawing.call.has("--whole");
    return viz::argument(drawing.graph, drawing.weigher.weigh(drawn_claim(drawing)), options, drawing.draft);
}

// The claim and its rivals: other objects of the same subject and relation.
viz::Diagram draw_dispute(Drawing& drawing) {
    const ClaimRef claim = drawn_claim(drawing);
    std::vector<Weight> views = {drawing.weigher.weigh(claim)};
    for (const ClaimWithEvidence& other : drawing.graph.claims_of(claim.subject, claim.relation))
        if (other.claim.ref != claim) views.push_back(drawing.weigher.weigh(other.claim.ref));
    return viz::dispute(drawing.graph, views, drawing.draft);
}

viz::Diagram draw_around(Drawing& drawing) {
    viz::NeighbourhoodOptions options;
    options.depth = drawing.call.count("--depth", 1, 1, 12);
    for (const std::string& kind : drawing.call.all("--only")) options.only.insert(kind);
    options.least_support = drawing.call.number("--support", 0, 0, 1);
    return viz::neighbourhood(drawing.graph, drawing.graph.need(only_one(drawing, "thing")), options, drawing.draft);
}

viz::Diagram draw_descent(Drawing& drawing) {
    std::vector<EntityId> from;
    for (const std::string& key : drawing.about) from.push_back(drawing.graph.need(key));
    return viz::descent(drawing.graph, from, {}, drawing.draft);
}

viz::Diagram draw_copying(Drawing& drawing) {
    std::optional<EntityId> about;
    if (!drawing.about.empty()) about = drawing.graph.need(only_one(drawing, "source"));
    return viz::copying(drawing.graph, about, drawing.draft);
}

struct Picture {
    const char* name;
    const char* help;
    std::function<viz::Diagram(Drawing&)> draw;
};

const std::vector<Picture>& pictures() {
    static const std::vector<Picture> all = {
        {"trace", "KEY: chains from a thing, with the options of `trace`", draw_trace},
        {"weigh", "CLAIM: what speaks for and against it", draw_weigh},
        {"dispute", "CLAIM: it and its rivals side by side", draw_dispute},
        {"around", "KEY: what claims join to a thing", draw_around},
        {"descent", "[KEY...]: what replaced what, what was borrowed", draw_descent},
        {"copying", "[SOURCE]: who copied whom", draw_copying},
    };
    return all;
}

const Picture& picture_named(const std::string& name) {
    std::string known;
    for (const Picture& picture : pictures()) {
        if (picture.name == name) return picture;
        known += (known.empty() ? "" : ", ") + std::string(picture.name);
    }
    throw UsageFault("there is no picture called \"" + name + "\"", "draw one of: " + known);
}

// The picture in the form that the file's name asks for.
std::string rendered(const viz::Diagram& diagram, const std::string& extension) {
    if (extension == ".dot") return viz::to_dot(diagram);
    if (extension == ".svg") return viz::to_svg(diagram);
    if (extension == ".pdf") return viz::svg_to_pdf(viz::to_svg(diagram));
    if (extension == ".png") return viz::svg_to_png(viz::to_svg(diagram));
    throw UsageFault("a picture cannot be written as \"" + extension + "\"",
                     "give --output a name that ends in .svg, .pdf, .png or .dot");
}

// Written beside its place and moved there: a reader never sees half a file.
void write_whole(const std::filesystem::path& path, const std::string& bytes) {
    const std::filesystem::path part = path.string() + ".part";
    std::ofstream out(part, std::ios::binary | std::ios::trunc);
    out << bytes;
    out.close();
    if (!out) {
        std::error_code ignored;
        std::filesystem::remove(part, ignored);
        throw StoreFault("cannot write " + path.string(), "see that the folder is there and that the disk is not full");
    }
    std::filesystem::rename(part, path);
}

int run_draw(Call& call) {
    const std::vector<std::string> words = call.all("WHAT");
    const Picture& picture = picture_named(words.front());
    const Session session = open_to_read(call);
    const Snapshot& graph = *session.snapshot;
    Weigher weigher(graph);
    viz::DraftOptions draft;
    draft.figure = viz::figures_of(weigher);
    draft.with_private = call.with_private;
    draft.made_from = "profile " + weigher.profile().title();
    Drawing drawing{call, graph, weigher, draft, {words.begin() + 1, words.end()}};
    const viz::Diagram diagram = picture.draw(drawing);
    const std::filesystem::path path = call.get("--output");
    if (path.empty()) {
        *call.out << viz::to_dot(diagram);
        return fine;
    }
    write_whole(path, rendered(diagram, path.extension().string()));
    *call.err << "drawn: " << path.string() << '\n';
    return fine;
}

}  // namespace

Verb draw_verb() {
    std::string kinds = "Pictures:\n";
    for (const Picture& picture : pictures()) kinds += fmt::format("  {:<9}{}\n", picture.name, picture.help);
    kinds += "The notation is explained in viz/NOTATION.md and in the legend of each picture.";
    std::vector<Option> options = {
        {"-o,--output", "FILE", "where to; its ending says how: .svg .pdf .png .dot (else DOT on standard output)"}};
    for (const Option& option : trace_options()) options.push_back(option);
    options.push_back({"--whole", "", "weigh: also the evidence of premises and rivals"});
    options.push_back({"--depth", "N", "around: how many steps (1)"});
    options.push_back({"--only", "KIND", "around: only things of this kind", true});
    options.push_back({"--support", "LEAST", "around: leave out claims with less support"});
    return {"draw",
            "a picture for publication",
            {{"WHAT", "the kind of picture, then what it is of", true, true}},
            options,
            run_draw,
            kinds};
}

}  // namespace saggar::app
