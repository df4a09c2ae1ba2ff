#include "app/text/rulings.h"

#include <fmt/format.h>

#include "queries/privacy.h"

namespace saggar::app {
namespace {

constexpr std::size_t most_causes = 5;  // shown of each kind

class RulingWriter {
public:
    RulingWriter(Call& call, const Snapshot& graph, std::size_t indent)
        : call_(call), graph_(graph), privacy_(graph, call.with_private), indent_(indent) {}

    void write(const RulingStanding& standing) {
        const RulingRow& row = standing.ruling;
        if (!privacy_.may_show(row)) return;
        std::string head = standing.superseded ? "earlier ruling: " : "ruling: ";
        head += word_for(row.decision);
        if (!row.decided_by.empty()) head += " by " + row.decided_by;
        if (!row.decided_on.empty()) head += ", " + row.decided_on;
        if (!row.reasons.empty()) head += ": " + row.reasons;
        line(head, 0, "ruling:" + row.id.brief());
        if (standing.superseded || !standing.stale()) return;
        line("this ruling is stale:", 2, "");
        write_unseen(standing);
        write_gone(standing);
    }

    void write_disagreement(std::vector<RulingStanding> rulings) {
        std::erase_if(rulings, [this](const RulingStanding& one) { return !privacy_.may_show(one.ruling); });
        if (disagree(rulings))
            line("these rulings disagree, and none has seen the other: settle again having seen them, or withdraw one", 0, "");
    }

private:
    void line(const std::string& text, std::size_t deeper, const std::string& id) {
        const std::size_t indent = indent_ + deeper;
        *call_.out << std::string(indent, ' ') << wrap(text, call_.layout.width, indent + 2);
        if (!id.empty()) *call_.out << "  " << call_.layout.faint(id);
        *call_.out << '\n';
    }

    void write_unseen(const RulingStanding& standing) {
        std::size_t shown = 0;
        for (const ContentId& record : standing.unseen) {
            if (shown++ == most_causes) break;
            line("it did not see " + record_words(graph_, privacy_, record), 4, record.brief());
        }
        more(standing.unseen.size());
    }

    void write_gone(const RulingStanding& standing) {
        std::size_t shown = 0;
        for (const Gone& one : standing.gone) {
            if (shown++ == most_causes) break;
            std::string text = "what it relied on was withdrawn";
            if (one.entry) text += fmt::format(" in entry {}", one.entry);
            if (!one.reason.empty()) text += ": " + (privacy_.may_tell(one.record) ? one.reason : std::string("(private)"));
            line(text, 4, one.record.brief());
        }
        more(standing.gone.size());
    }

    void more(std::size_t count) {
        if (count > most_causes) line(fmt::format("and {} more", count - most_causes), 4, "");
    }

    Call& call_;
    const Snapshot& graph_;
    Privacy privacy_;
    std::size_t indent_;
};

}  // namespace

void write_rulings(Call& call, const Snapshot& graph, const std::vector<RulingStanding>& rulings, std::size_t indent) {
    RulingWriter writer(call, graph, indent);
    for (const RulingStanding& standing : rulings) writer.write(standing);
    writer.write_disagreement(rulings);
}

}  // namespace saggar::app
