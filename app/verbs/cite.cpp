#include <fmt/format.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <set>

#include "app/json_out.h"
#include "app/session.h"
#include "app/tracing.h"
#include "app/verbs/verbs.h"
#include "kg/model/fault.h"
#include "kg/model/key.h"
#include "kg/weigh/weigher.h"
#include "queries/privacy.h"
#include "queries/cite_draft.h"
#include "queries/cite_graph.h"
#include "queries/cite_notes.h"
#include "queries/statement.h"

namespace saggar::app {
namespace {

struct CitedClaim {
    std::string statement, id;
    std::vector<int> in_favour, against;
};

// A citation of the draft and the note it gets.
struct CitedPlace {
    std::string written;
    std::size_t line = 0;
    int note = 0;
};

// What is cited, gathered from whatever the user named.
class Citing {
public:
    Citing(Call& call, const Snapshot& graph) : call_(call), graph_(graph), notes_(style_of(call)) {}

    static CiteStyle style_of(const Call& call) {
        CiteStyle style;
        style.ibid = call.has("--ibid");
        style.dates = call.has("--month-first") ? DateOrder::month_day : DateOrder::day_month;
        return style;
    }

    // A citation of sources becomes one note with its locators; whatever else a draft names is cited as from the
    // command line.
    void mentioned(const DraftMention& mention) {
        std::vector<NotePart> parts;
        for (const auto& part : mention.parts) {
            const auto id = graph_.find(part.name);
            const bool is_source = mention.is_citation && id && (graph_.source(*id) || graph_.kind_of(*id) == "source");
            if (!is_source) {
                named_in_draft(part.name);
                continue;
            }
            auto record = source_of(graph_, *id);
            if (record.is_private && !call_.with_private) continue;
            parts.push_back({std::move(record), part.at, part.prefix, part.suffix, part.without_author});
        }
        if (!parts.empty()) places_.push_back({mention.written, mention.line, notes_.number_of(parts)});
    }

    // A draft may name what is not in the graph: that is noted and told, once.
    void named_in_draft(const std::string& text) {
        if (!named_.insert(text).second) return;
        try {
            thing(text);
        } catch (const UsageFault&) {
            unknown_.push_back(text);
        }
    }

    void thing(const std::string& text) {
        if (!is_key(text) || text.rfind("claim:", 0) == 0) return claim(need_claim(graph_, text));
        key(text);
    }

    // A source is cited as itself; anything else by the claims about it.
    void key(const std::string& text) {
        const auto id = need_thing(call_, graph_, text);
        if (graph_.source(id) || graph_.kind_of(id) == "source") return source(id);
        for (const auto& found : graph_.claims_of(id)) claim(found);
        for (const auto ref : graph_.claims_about(id)) claim(ref);
    }

    void claim(ClaimRef ref) {
        if (const auto found = graph_.claim(ref)) claim(*found);
    }

    void source(EntityId id) {
        if (Privacy(graph_, call_.with_private).may_show(id)) notes_.number_of(source_of(graph_, id), {}, {});
    }

    const std::vector<CitedClaim>& claims() const { return claims_; }
    const std::vector<CitedPlace>& places() const { return places_; }
    const Notes& notes() const { return notes_; }
    const std::vector<std::string>& unknown() const { return unknown_; }

private:
    bool hidden(const EvidenceRow& row) const {
        return !Privacy(graph_, call_.with_private).may_show(row);
    }

    void claim(const ClaimWithEvidence& found) {
        if (!Privacy(graph_, call_.with_private).may_show(found)) return;
        if (!seen_.insert(found.claim.ref).second) return;  // several chains share a claim
        CitedClaim cited;
        cited.statement = statement(graph_, found.claim);
        cited.id = found.claim.id.full();
        for (const auto& row : found.evidence) {
            if (hidden(row)) continue;
            (row.stance == Stance::in_favour ? cited.in_favour : cited.against)
                .push_back(notes_.number_of(source_of(graph_, row.source), row.at, row.quote));
        }
        if (cited.in_favour.empty() && cited.against.empty() && !found.evidence.empty())
            return;  // known from private evidence alone
        claims_.push_back(std::move(cited));
    }

    Call& call_;
    const Snapshot& graph_;
    Notes notes_;
    std::vector<CitedClaim> claims_;
    std::vector<CitedPlace> places_;
    std::set<ClaimRef> seen_;
    std::set<std::string> named_;
    std::vector<std::string> unknown_;
};

std::string marks(const std::vector<int>& numbers) {
    std::string text;
    for (const int number : numbers) text += fmt::format("[{}]", number);
    return text;
}

std::string rendered(const CitedText& text, const std::string& markup) {
    if (markup == "markdown") return to_markdown(text);
    if (markup == "html") return to_html(text);
    return to_plain(text);
}

void write_text(Call& call, const Citing& citing, const std::string& markup) {
    for (const auto& claim : citing.claims()) {
        std::string line = claim.statement;
        if (!claim.in_favour.empty()) line += "  for " + marks(claim.in_favour);
        if (!claim.against.empty()) line += "  against " + marks(claim.against);
        if (claim.in_favour.empty() && claim.against.empty()) line += "  (no evidence recorded)";
        *call.out << wrap(line, call.layout.width, 4) << '\n';
    }
    for (const auto& place : citing.places())
        *call.out << wrap(fmt::format("line {}: {}  [{}]", place.line, one_line(place.written, 200), place.note),
                          call.layout.width, 4)
                  << '\n';
    if (!(citing.claims().empty() && citing.places().empty()) && !citing.notes().texts().empty())
        *call.out << '\n' << call.layout.strong("notes") << '\n';
    int number = 0;
    for (const auto& note : citing.notes().texts()) {
        const auto mark = fmt::format("[{}] ", ++number);
        *call.out << mark << wrap(rendered(note, markup), call.layout.width, mark.size()) << '\n';
    }
    if (!citing.notes().texts().empty()) *call.out << '\n' << call.layout.strong("sources") << '\n';
    for (const auto& source : citing.notes().bibliography()) {
        *call.out << wrap(rendered(bibliography_entry(source, Citing::style_of(call)), markup), call.layout.width, 4)
                  << '\n';
    }
}

void write_json(Call& call, const Citing& citing) {
    nlohmann::json claims = nlohmann::json::array(), notes = nlohmann::json::array(), entries = nlohmann::json::array(),
                   places = nlohmann::json::array();
    for (const auto& claim : citing.claims()) {
        claims.push_back({{"claim", claim.id},
                          {"statement", claim.statement},
                          {"for", claim.in_favour},
                          {"against", claim.against}});
    }
    for (const auto& place : citing.places())
        places.push_back({{"written", place.written}, {"line", place.line}, {"note", place.note}});
    const auto markup = call.get("--as", "plain");
    for (const auto& note : citing.notes().texts()) notes.push_back(rendered(note, markup));
    for (const auto& source : citing.notes().bibliography()) {
        entries.push_back(
            {{"source", source.key}, {"text", rendered(bibliography_entry(source, Citing::style_of(call)), markup)}});
    }
    print(*call.out, {{"claims", claims},
                      {"citations", places},
                      {"notes", notes},
                      {"bibliography", entries},
                      {"unknown", citing.unknown()}});
}

std::string read_draft(const std::string& file) {
    std::ifstream stream(file, std::ios::binary);
    if (!stream) throw UsageFault(file + " cannot be read", "look whether the file is there");
    return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}

int run_cite(Call& call) {
    const auto markup = call.get("--as", "plain");
    if (markup != "plain" && markup != "markdown" && markup != "html")
        throw UsageFault("\"" + markup + "\" is no form for citations", "use plain, markdown or html");
    const Session session = open_to_read(call);
    const Snapshot& graph = *session.snapshot;
    Citing citing(call, graph);
    const auto things = call.all("THING");
    const bool chain = call.has("--to") || call.has("--to-kind");
    if (things.empty() && !call.has("--draft"))
        throw UsageFault("nothing to cite is named", "name keys or claims, or a draft with --draft FILE");
    if (chain) {
        if (things.size() != 1) throw UsageFault("a chain starts from one thing", "name exactly one thing");
        Weigher weigher(graph);
        for (const auto& found : trace(graph, weigher, trace_question(call, graph, "THING")).chains) {
            for (const auto& step : found.steps) citing.claim(step.step.claim);
        }
    } else {
        for (const auto& text : things) citing.thing(text);
    }
    if (call.has("--draft")) {
        for (const auto& mention : mentions_in_draft(read_draft(call.get("--draft")))) citing.mentioned(mention);
    }
    if (call.json) {
        write_json(call, citing);
    } else {
        write_text(call, citing, markup);
    }
    for (const auto& name : citing.unknown()) *call.err << "not in the graph: " << name << '\n';
    return citing.notes().texts().empty() || !citing.unknown().empty() ? trouble : fine;
}

}  // namespace

Verb cite_verb() {
    auto options = trace_options();
    options.insert(options.begin(),
                   {{"--draft", "FILE", "what a text of yours links to, or cites as pandoc writes it: [see @KEY, p. 4]"},
                    {"--as", "FORM", "plain, markdown or html (plain)"},
                    {"--ibid", "", "\"Ibid.\" for the source of the note just before"},
                    {"--month-first", "", "March 4, 1934 instead of 4 March 1934"}});
    return {"cite",
            "the evidence for claims as numbered notes, in the order scholars expect",
            {{"THING", "keys of sources or of things, or claims by id or as \"subject relation object\"", false, true}},
            options,
            run_cite,
            "With --to or --to-kind: the claims of the chains that `saggar trace` finds.\n"
            "The first mention of a source is in full, later ones are short; the sources follow as a bibliography. The "
            "order is that of the Chicago Manual of Style, notes and bibliography.\n"
            "Exit status 1: nothing is recorded to cite, or the draft names what is not in the graph."};
}

}  // namespace saggar::app
