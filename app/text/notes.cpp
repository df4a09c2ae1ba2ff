#include "app/text/notes.h"

#include <fmt/format.h>

namespace saggar::app {

Source cited_source(const Snapshot& graph, EntityId id) {
    Source source;
    if (auto known = graph.source(id)) source = std::move(*known);
    source.key = graph.key_of(id);
    if (source.title.empty()) source.title = graph.label_of(id);
    return source;
}

int NoteList::number_of(const EvidenceRow& row) {
    return notes_.number_of(cited_source(graph_, row.source), row.at, row.quote);
}

void NoteList::write(std::ostream& out, const Layout& layout) const {
    int number = 0;
    for (const CitedText& note : notes_.texts()) {
        const std::string mark = fmt::format("[{}] ", ++number);
        out << mark << wrap(to_plain(note), layout.width, mark.size()) << '\n';
    }
}

}  // namespace saggar::app
