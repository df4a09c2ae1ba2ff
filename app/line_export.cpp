#include "app/line_export.h"

#include <string>
#include <unordered_set>

#include "kg/model/record_json.h"
#include "kg/store/ledger.h"

namespace saggar::app {
namespace {

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

}  // namespace

std::size_t write_lines(const Snapshot& graph, std::uint64_t from, std::ostream& out, bool with_private) {
    LineWriter writer(graph, out, with_private);
    read_ledger(graph, from, graph.entry(), writer);
    return writer.left_out_count();
}

}  // namespace saggar::app
