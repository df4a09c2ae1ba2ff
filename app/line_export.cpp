#include "app/line_export.h"

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

}  // namespace

std::size_t write_lines(const Snapshot& graph, std::uint64_t from, std::ostream& out, bool with_private) {
    LineWriter writer(out);
    Outgoing outgoing(graph, writer, with_private);
    read_ledger(graph, from, graph.entry(), outgoing);
    return outgoing.left_out_count();
}

}  // namespace saggar::app
