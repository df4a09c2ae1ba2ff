#include "queries/cite.h"

#include <fmt/format.h>

#include <fstream>
#include <regex>
#include <set>
#include <sstream>

#include "app/json_out.h"
#include "app/session.h"
#include "app/text/notes.h"
#include "app/verbs/verbs.h"
#include "kg/model/fault.h"
#include "kg/model/key.h"
#include "queries/cite_graph.h"
#include "queries/statement.h"

namespace saggar::app {
namespace {

// Every claim a key stands for: the claim itself, or all claims of a thing.
std::vector<ClaimWithEvidence> claims_behind(const Snapshot& graph, const std::string& text) {
    const auto parts = split_key(text);
    if (parts && !is_reserved_kind(parts->kind)) return graph.claims_of(graph.need(text));
    return {*graph.claim(need_claim(graph, text))};
}

struct Cited {
    std::string statement;
    std::string claim;
    std::vector<int> in_favour;
    std::vector<int> against;
};

std::vector<Cited> cite_claims(const Call& call, const Snapshot& graph, const std::string& text, NoteList& notes) {
    std::vector<Cited> all;
    for (const ClaimWithEvidence& claim : claims_behind(graph, text)) {
        if (claim.claim.is_private && !call.with_private) continue;
        Cited cited;
        cited.statement = statement(graph, claim.claim);
        cited.claim = claim.claim.id.full();
        for (const EvidenceRow& row : claim.evidence) {
            if (row.is_private && !call.with_private) continue;
            (row.stance == Stance::in_favour ? cited.in_favour : cited.against).push_back(notes.number_of(row));
        }
        all.push_back(std::move(cited));
    }
    return all;
}

// The keys and claim ids that a draft names, in order, each once.
std::vector<std::string> keys_of_draft(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    if (!in) throw UsageFault("cannot read " + path, "see that the file is there");
    std::ostringstream text;
    text << in.rdbuf();
    const std::string draft = text.str();
    static const std::regex key("[a-z][a-z0-9-]{0,39}:[a-z0-9][a-z0-9._-]{0,199}");
    std::vector<std::string> keys;
    std::set<std::string> seen;
    for (std::sregex_iterator at(draft.begin(), draft.end(), key), end; at != end; ++at) {
        std::string found = at->str();
        while (!found.empty() && (found.back() == '.' || found.back() == '-')) found.pop_back();
        if (seen.insert(found).second) keys.push_back(found);
    }
    return keys;
}

std::string marks(const char* word, const std::vector<int>& numbers) {
    std::string out;
    for (const int number : numbers) out += fmt::format("[{}]", number);
    return out.empty() ? out : std::string(" ") + word + out;
}

int run_cite(Call& call) {
    const Session session = open_to_read(call);
    const Snapshot& graph = *session.snapshot;
    std::vector<std::string> keys = call.all("KEY");
    const bool draft = call.has("--draft");
    if (draft)
        for (const std::string& key : keys_of_draft(call.get("--draft"))) keys.push_back(key);
    if (keys.empty()) throw UsageFault("there is nothing to cite", "name a claim, a thing, or a text with --draft");
    NoteList notes(graph);
    std::vector<Cited> cited;
    std::vector<std::string> unknown;
    std::vector<Source> sources;
    for (const std::string& key : keys) {
        try {
            if (const auto id = graph.find(key); id && graph.source(*id)) sources.push_back(source_of(graph, *id));
            for (Cited& one : cite_claims(call, graph, key, notes)) cited.push_back(std::move(one));
        } catch (const UsageFault&) {
            if (!draft) throw;  // a draft may hold what only looks like a key
            unknown.push_back(key);
        }
    }
    std::vector<Source> bibliography = notes.notes().bibliography();
    if (call.json) {
        nlohmann::json claims = nlohmann::json::array();
        for (const Cited& one : cited)
            claims.push_back(
                {{"claim", one.claim}, {"statement", one.statement}, {"for", one.in_favour}, {"against", one.against}});
        nlohmann::json texts = nlohmann::json::array();
        for (const CitedText& note : notes.notes().texts()) texts.push_back(to_plain(note));
        nlohmann::json entries = nlohmann::json::array();
        for (const Source& source : bibliography)
            entries.push_back({{"source", source.key}, {"text", to_plain(bibliography_entry(source))}});
        for (const Source& source : sources)
            entries.push_back({{"source", source.key}, {"text", to_plain(bibliography_entry(source))}});
        print(*call.out, {{"claims", claims}, {"notes", texts}, {"bibliography", entries}, {"unknown", unknown}});
        return unknown.empty() ? fine : trouble;
    }
    for (const Source& source : sources) *call.out << wrap(to_plain(full_note(source)), call.layout.width, 4) << '\n';
    for (const Cited& one : cited)
        *call.out << wrap(one.statement + marks("for ", one.in_favour) + marks("against ", one.against),
                          call.layout.width, 4)
                  << '\n';
    if (!notes.notes().texts().empty()) {
        *call.out << call.layout.strong("notes") << '\n';
        notes.write(*call.out, call.layout);
    }
    if (!bibliography.empty()) *call.out << call.layout.strong("sources") << '\n';
    for (const Source& source : bibliography)
        *call.out << wrap(to_plain(bibliography_entry(source)), call.layout.width, 4) << '\n';
    for (const std::string& key : unknown) *call.err << "not in the graph: " << key << '\n';
    return unknown.empty() ? fine : trouble;
}

}  // namespace

Verb cite_verb() {
    return {"cite",
            "citations for a claim, a thing, a source, or a whole draft",
            {{"KEY", "claim, thing or source", false, true}},
            {{"--draft", "FILE", "everything that a text names by key"}},
            run_cite,
            "Notes give the first mention of a source in full and later ones short; the sources follow in the order of "
            "a bibliography."};
}

}  // namespace saggar::app
