#include "app/weighing.h"

#include <fmt/format.h>

#include "app/json_out.h"
#include "app/session.h"
#include "app/verbs/verbs.h"
#include "kg/model/fault.h"
#include "kg/weigh/profile.h"
#include "queries/privacy.h"
#include "queries/statement.h"
#include "queries/trace_json.h"

namespace saggar::app {
namespace {

ClaimRef visible_claim(const Call& call, const Snapshot& graph, const std::string& text) {
    const ClaimRef ref = need_claim(graph, text);
    if (!Privacy(graph, call.with_private).may_show(*graph.claim(ref)))
        throw UsageFault("this claim is marked private", "see it with --with-private");
    return ref;
}

// The question with nothing assumed and nothing left out.
WeighOptions as_it_stands(const WeighOptions& options) {
    WeighOptions plain = options;
    plain.what_if.clear();
    plain.without_sources.clear();
    return plain;
}
bool stands(const WeighOptions& options) { return options.what_if.empty() && options.without_sources.empty(); }

// The name of the answer as it stands, beside the one asked for.
const char* standing_field(const WeighOptions& options) { return options.without_sources.empty() ? "without_what_if" : "standing"; }
const char* standing_words(const WeighOptions& options) {
    return options.without_sources.empty() ? "without the what-if" : "as the record stands";
}

int weigh_one(Call& call, const Snapshot& graph, Weigher& weigher, ClaimRef claim, const WeighOptions& options) {
    const Weight weight = weigher.weigh(claim, options);
    if (call.json) {
        nlohmann::json out = weight_as_json(graph, weight, call.with_private);
        out["scale"] = weigher.profile().scale;
        if (!options.without_sources.empty()) out["without"] = options.without_sources;
        if (!stands(options)) {
            const Weight standing = weigher.weigh(claim, as_it_stands(options));
            out[standing_field(options)] = weight_as_json(graph, standing, call.with_private);
        }
        print(*call.out, out);
        return fine;
    }
    NoteList notes(graph);
    write_weight(call, graph, weight, notes);
    const bool in_words = weight.clarity == Clarity::clear || weight.clarity == Clarity::contested;
    if (in_words && weight.masses.for_only > 0)
        *call.out << "    \"" << weight.words << "\" is a term of the scale " << weigher.profile().scale << '\n';
    if (!stands(options)) {
        const Weight usual = weigher.weigh(claim, as_it_stands(options));
        *call.out << fmt::format("    {}: support {}, possibility {}\n", standing_words(options),
                                 figure_text(usual.support, usual.half_width),
                                 figure_text(usual.possibility, usual.half_width));
    }
    notes.write(*call.out, call.layout);
    return fine;
}

int weigh_together(Call& call, const Snapshot& graph, Weigher& weigher, const std::vector<ClaimRef>& claims,
                   const WeighOptions& options) {
    const bool any = call.has("--any");
    std::vector<Chain> chains;
    if (any) {
        for (const ClaimRef& claim : claims) chains.push_back({claim});
    } else {
        chains.push_back(claims);
    }
    const JointWeight joint = weigher.joint(chains, options);
    if (call.json) {
        nlohmann::json out = to_json(joint, graph, call.with_private);
        out["question"] = any ? "any" : "all";
        out["claims"] = nlohmann::json::array();
        for (const ClaimRef& claim : claims) out["claims"].push_back(graph.content_of(claim).full());
        if (!options.without_sources.empty()) out["without"] = options.without_sources;
        if (!stands(options)) out[standing_field(options)] = to_json(weigher.joint(chains, as_it_stands(options)), graph, call.with_private);
        print(*call.out, out);
        return fine;
    }
    *call.out << call.layout.strong(any ? "that any of these holds" : "that all of these hold") << '\n';
    WeighOptions each = options;
    each.explain = false;
    for (const ClaimRef& claim : claims) {
        const Weight one = weigher.weigh(claim, each);
        *call.out << "    " << wrap(statement(graph, graph.claim(claim)->claim), call.layout.width, 6) << ": support "
                  << figure_text(one.support, one.half_width) << '\n';
    }
    write_joint(call, graph, joint);
    if (!stands(options)) {
        const JointWeight usual = weigher.joint(chains, as_it_stands(options));
        *call.out << fmt::format("    {}: {}\n", standing_words(options), figure_text(usual.conditioned, usual.half_width));
    }
    return fine;
}

int run_weigh(Call& call) {
    const Session session = open_to_read(call);
    const Snapshot& graph = *session.snapshot;
    Weigher weigher(graph);
    const WeighOptions options = weigh_options(call, graph, weigher.profile());
    std::vector<ClaimRef> claims;
    for (const std::string& text : call.all("CLAIM")) claims.push_back(visible_claim(call, graph, text));
    if (call.has("--any") && call.has("--all"))
        throw UsageFault("--any and --all ask different questions", "give one of them");
    if (claims.size() == 1) return weigh_one(call, graph, weigher, claims.front(), options);
    if (!call.has("--any") && !call.has("--all"))
        throw UsageFault("several claims can be weighed together in two ways", "say --any or --all");
    return weigh_together(call, graph, weigher, claims, options);
}

}  // namespace

Verb weigh_verb() {
    return {"weigh",
            "how sure, on whose word, and what would change it",
            {{"CLAIM", "the id of a claim, or `subject relation object`", true, true}},
            {{"--any", "", "of several claims: that at least one holds"},
             {"--all", "", "of several claims: that all hold"},
             {"--what-if", "SOURCE=CHANCE", "as if the source were that reliable; at 0 what copies it falls with it", true},
             {"--without", "SOURCE", "as if nothing had been taken down from the source", true},
             {"--base-rate", "RATE", "also give a betting figure at this base rate"},
             {"--thorough", "", "spend more work before sampling"}},
            run_weigh,
            "Example: saggar weigh 'shape:pinnace modelled-by person:maud-ennersley' --what-if source:guide=0.2"};
}

}  // namespace saggar::app
