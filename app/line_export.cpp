#include "app/line_export.h"

#include <optional>
#include <set>
#include <string>

#include "app/outgoing.h"
#include "kg/model/record_json.h"

namespace saggar::app {
namespace {

class LineWriter : public LedgerVisitor {
public:
    explicit LineWriter(std::ostream& out) : out_(out) {}

    void entry(const Entry& entry) override {
        out_ << to_json_line(EntryHeader{entry.number, entry.time, entry.author, entry.verb, entry.reason}) << '\n';
    }
    void document(const std::string& name, const std::string& text) override {
        out_ << to_json_line(DocumentLine{name, text}) << '\n';
    }
    void record(const Record& record) override {
        line_.clear();
        append_json_line(record, line_);
        line_ += '\n';
        out_ << line_;
    }

private:
    std::ostream& out_;
    std::string line_;
};

// Which records a part of the history names.
class Named final : public LedgerVisitor {
public:
    void entry(const Entry&) override {}
    void document(const std::string&, const std::string&) override {}
    void record(const Record& record) override {
        std::visit([this](const auto& one) { note(one); }, record);
    }
    std::set<ContentId> ids;

private:
    void note(const Entity&) {}
    void note(const Source&) {}
    void note(const Withdrawal& one) { ids.insert(one.of); }
    template <typename One>
    void note(const One& one) {
        ids.insert(id_of(one));
    }
};

// What happened earlier to certain records, under the heads of its entries; the rest of those entries is passed over.
class EarlierTurns final : public LedgerVisitor {
public:
    EarlierTurns(const std::set<ContentId>& ids, LedgerVisitor& next) : ids_(ids), next_(next) {}
    void entry(const Entry& entry) override { head_ = entry; }
    void document(const std::string&, const std::string&) override {}
    void record(const Record& record) override {
        Named named;
        named.record(record);
        if (named.ids.empty() || ids_.count(*named.ids.begin()) == 0) return;
        if (head_) next_.entry(*head_);
        head_.reset();
        next_.record(record);
    }

private:
    const std::set<ContentId>& ids_;
    LedgerVisitor& next_;
    std::optional<Entry> head_;  // not told yet
};

// The records of the part that were put or withdrawn before it, with the claims that they name: whoever takes the part in must
// know how often each was put and withdrawn, to tell what is put again from what was withdrawn long since.
std::set<ContentId> met_before(const Snapshot& graph, std::uint64_t from, bool with_private) {
    Named named;
    Outgoing outgoing(graph, named, with_private);
    read_ledger(graph, from, graph.entry(), outgoing);
    std::set<ContentId> met;
    for (const ContentId& id : named.ids) {
        const Spans spans = graph.spans_of(id);
        if (spans.empty() || spans.front().since >= from) continue;
        met.insert(id);
        const auto place = graph.place_of(id);
        if (!place || place->type == RecordPlace::Type::claim || place->type == RecordPlace::Type::list) continue;
        met.insert(graph.content_of(place->claim));
        if (place->type != RecordPlace::Type::argument) continue;
        for (const ArgumentRow& row : graph.arguments_for(place->claim))
            if (row.id == id)
                for (const ClaimRef premise : row.premises) met.insert(graph.content_of(premise));
    }
    return met;
}

}  // namespace

std::size_t write_lines(const Snapshot& graph, std::uint64_t from, std::ostream& out, bool with_private) {
    LineWriter writer(out);
    if (from > 1) {
        const std::set<ContentId> met = met_before(graph, from, with_private);
        EarlierTurns earlier(met, writer);
        Outgoing before(graph, earlier, with_private);
        if (!met.empty()) read_ledger(graph, 1, from - 1, before);
    }
    Outgoing outgoing(graph, writer, with_private);
    read_ledger(graph, from, graph.entry(), outgoing);
    return outgoing.left_out_count();
}

}  // namespace saggar::app
