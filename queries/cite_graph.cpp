#include "queries/cite_graph.h"

#include <fmt/format.h>

#include "queries/statement.h"

namespace saggar {

Source source_of(const Snapshot& snapshot, EntityId id) {
    if (auto source = snapshot.source(id)) {
        if (source->title.empty()) source->title = snapshot.label_of(id);
        return *std::move(source);
    }
    Source source;
    source.key = snapshot.key_of(id);
    source.title = snapshot.label_of(id);
    return source;
}

std::string manner_of(const EvidenceRow& row) {
    std::string words;
    const auto add = [&words](const std::string& part) { words += (words.empty() ? "" : ", ") + part; };
    if (!row.certainty.empty()) {
        const bool number = row.certainty.find_first_not_of("0123456789.") == std::string::npos;
        add(number ? "the author's own certainty " + row.certainty : "\u201C" + row.certainty + "\u201D");
    }
    if (row.reading == "indirect") add("at second hand");
    if (row.mention) add(fmt::format("is silent; would have mentioned it with chance {:g}", *row.mention));
    return words;
}

namespace {

// A remark in brackets after a note, before its full stop.
CitedText with_remark(const CitedText& note, const std::string& remark) {
    CitedText result;
    for (std::size_t i = 0; i < note.runs().size(); ++i) {
        auto run = note.runs()[i];
        if (i + 1 == note.runs().size() && run.text.ends_with('.')) run.text.pop_back();
        if (run.italic) {
            result.add_italic(run.text);
        } else {
            result.add(run.text);
        }
    }
    return result.add(" (" + remark + ").");
}

}  // namespace

CitedText evidence_note(const Snapshot& snapshot, const EvidenceRow& row, const CiteStyle& style) {
    const CitedText note = full_note(source_of(snapshot, row.source), row.at, row.quote, style);
    const auto manner = manner_of(row);
    return manner.empty() ? note : with_remark(note, manner);
}

CitedText evidence_note_short(const Snapshot& snapshot, const EvidenceRow& row, const CiteStyle& style) {
    const CitedText note = short_note(source_of(snapshot, row.source), row.at, row.quote, style);
    const auto manner = manner_of(row);
    return manner.empty() ? note : with_remark(note, manner);
}

CitedText listing_note(const Snapshot& snapshot, const ListingRow& row, const CiteStyle& style) {
    std::string lists =
        fmt::format("lists all that {} {}", snapshot.label_of(row.subject), relation_words(snapshot, row.relation));
    if (!row.when.empty()) lists += ", " + date_in_words(row.when, style.dates);
    if (row.completeness < 1) lists += fmt::format("; completeness {:g}", row.completeness);
    return with_remark(full_note(source_of(snapshot, row.source), row.at, row.quote, style), lists);
}

}  // namespace saggar
