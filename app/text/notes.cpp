#include "app/text/notes.h"

#include <fmt/format.h>

#include "queries/cite_graph.h"

namespace saggar::app {

int NoteList::number_of(const EvidenceRow& row) {
    return notes_.number_of(source_of(graph_, row.source), row.at, row.quote);
}

int NoteList::number_of(const ListingRow& row) {
    return notes_.number_of(source_of(graph_, row.source), row.at, row.quote);
}

int NoteList::number_of(EntityId source) { return notes_.number_of(source_of(graph_, source), "", ""); }

void NoteList::write(std::ostream& out, const Layout& layout) const {
    int number = 0;
    for (const CitedText& note : notes_.texts()) {
        const std::string mark = fmt::format("[{}] ", ++number);
        out << mark << wrap(to_plain(note), layout.width, mark.size()) << '\n';
    }
}

}  // namespace saggar::app
