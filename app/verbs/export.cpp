#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <unordered_set>

#include "app/session.h"
#include "app/verbs/verbs.h"
#include "importers/bibtex_write.h"
#include "importers/csl_write.h"
#include "importers/ris_write.h"
#include "kg/model/fault.h"
#include "kg/model/record_json.h"
#include "kg/store/ledger.h"

namespace saggar::app {
namespace {

// JSON Lines with the whole history. Private records, and whatever would name them, stay out unless asked for.
class LineWriter : public LedgerVisitor {
public:
    LineWriter(const Snapshot& graph, std::ostream& out, bool with_private) : out_(out), with_private_(with_private) {
        if (with_private_) return;
        // What is marked private now is left out also where it was recorded before it was marked.
        graph.each_entity([this](EntityId, const Entity& one) { left_out(one); });
        graph.each_source([this](EntityId, const Source& one) { left_out(one); });
    }

    void entry(const Entry& entry) override {
        out_ << to_json_line(EntryHeader{entry.number, entry.time, entry.author, entry.verb, entry.reason}) << '\n';
    }
    void document(const std::string& name, const std::string& text) override {
        out_ << to_json_line(DocumentLine{name, text}) << '\n';
    }
    void record(const Record& record) override {
        if (!with_private_ && std::visit([this](const auto& one) { return left_out(one); }, record)) {
            ++left_out_;
            return;
        }
        line_.clear();
        append_json_line(record, line_);
        line_ += '\n';
        out_ << line_;
    }
    std::size_t left_out_count() const { return left_out_; }

private:
    bool hide(const ContentId& id) {
        hidden_ids_.insert(id);
        return true;
    }
    bool hidden_key(const std::string& key) const { return !key.empty() && hidden_keys_.count(key) != 0; }
    bool left_out(const Entity& one) {
        if (one.is_private) hidden_keys_.insert(one.key);
        return hidden_key(one.key);
    }
    bool left_out(const Source& one) {
        if (one.is_private) hidden_keys_.insert(one.key);
        return hidden_key(one.key);
    }
    bool left_out(const Claim& one) {
        const bool named = hidden_key(one.subject) || hidden_key(one.scope) ||
                           (one.object.type == Value::Type::entity && hidden_key(one.object.text));
        return (one.is_private || named) && hide(id_of(one));
    }
    bool left_out(const Evidence& one) {
        return (one.is_private || hidden_ids_.count(one.claim) || hidden_key(one.source)) && hide(id_of(one));
    }
    bool left_out(const Listing& one) {
        return (one.is_private || hidden_key(one.source) || hidden_key(one.subject)) && hide(id_of(one));
    }
    bool left_out(const Argument& one) {
        bool named = hidden_ids_.count(one.conclusion) != 0;
        for (const ContentId& premise : one.premises) named = named || hidden_ids_.count(premise) != 0;
        return (one.is_private || named) && hide(id_of(one));
    }
    bool left_out(const Ruling& one) {
        return (one.is_private || hidden_ids_.count(one.claim) != 0) && hide(id_of(one));
    }
    bool left_out(const Withdrawal& one) { return hidden_ids_.count(one.of) != 0; }

    std::ostream& out_;
    bool with_private_;
    std::string line_;
    std::unordered_set<std::string> hidden_keys_;
    std::unordered_set<ContentId> hidden_ids_;
    std::size_t left_out_ = 0;
};

// The sources as they stand, as a bibliography, sorted by key. How many private ones were left out.
template <class Writer>
std::size_t write_bibliography(const Snapshot& graph, std::ostream& out, bool with_private) {
    std::vector<Source> sources;
    std::size_t left_out = 0;
    graph.each_source([&](EntityId, const Source& one) {
        if (with_private || !one.is_private) {
            sources.push_back(one);
        } else {
            ++left_out;
        }
    });
    std::sort(sources.begin(), sources.end(), [](const Source& a, const Source& b) { return a.key < b.key; });
    Writer writer(out);
    for (const Source& source : sources) writer.put(source);
    writer.finish();
    return left_out;
}

// Writes in the format asked for. How many private records were left out.
std::size_t write_export(const Call& call, const Snapshot& graph, std::uint64_t from, std::ostream& out) {
    const std::string format = call.get("--format");
    if (format == "csl-json") return write_bibliography<CslWriter>(graph, out, call.with_private);
    if (format == "bibtex") return write_bibliography<BibtexWriter>(graph, out, call.with_private);
    if (format == "ris") return write_bibliography<RisWriter>(graph, out, call.with_private);
    if (!format.empty() && format != "jsonl") {
        throw UsageFault("there is no format \"" + format + "\" to export to", "use one of: jsonl, csl-json, bibtex, ris");
    }
    LineWriter writer(graph, out, call.with_private);
    read_ledger(graph, from, graph.entry(), writer);
    return writer.left_out_count();
}

int run_export(Call& call) {
    const Session session = open_to_read(call);
    const Snapshot& graph = *session.snapshot;
    const std::string path = call.get("--output");
    const std::uint64_t from = call.count("--since", 0, 0, graph.entry()) + 1;
    if (path.empty() || path == "-") {
        write_export(call, graph, from, *call.out);
        return fine;
    }
    // Written beside its place and moved there: a reader never sees half a file.
    const std::string part = path + ".part";
    std::ofstream out(part, std::ios::binary | std::ios::trunc);
    const std::size_t left_out = write_export(call, graph, from, out);
    out.close();
    if (!out) {
        std::remove(part.c_str());
        throw StoreFault("cannot write " + path, "see that the folder is there and that the disk is not full");
    }
    std::filesystem::rename(part, path);
    *call.err << fmt::format("exported entries {} to {} to {}", from, graph.entry(), path);
    if (left_out) *call.err << fmt::format("; {} private records left out (see --with-private)", left_out);
    *call.err << '\n';
    return fine;
}

}  // namespace

Verb export_verb() {
    return {"export",
            "write the graph with its whole history as JSON Lines, or its sources as a bibliography",
            {},
            {{"-o,--output", "FILE", "where to (else standard output)"},
             {"--format", "FORMAT", "jsonl (default); csl-json, bibtex or ris for the sources alone"},
             {"--since", "ENTRY", "only what came after this entry (JSON Lines)"}},
            run_export,
            "Loading the JSON Lines into an empty graph gives the same graph. Records marked private are left out unless "
            "--with-private is given."};
}

}  // namespace saggar::app
