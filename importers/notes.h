// Notes in Markdown: CommonMark 0.29 with the tables of GitHub Flavored Markdown, parsed by cmark-gfm.
//
//   # Working journal {#source:journal-1948}      or  # [Working journal](source:journal-1948)
//   names the source of all that follows, up to the next heading of the same or a higher level that names one or none.
//
//   - type: journal          A list whose first item reads `column: value`, directly under such a heading, describes
//   the
//   - box: 3                 source (columns of the table `sources`); the heading's words are its title.
//
//   | subject | relation | object |     A table with these columns holds claims (see ClaimRows). Any other table, and
//                                       all prose, is for the reader; a link [text](kind:slug) in it is a mention:
//                                       "source documents thing", with the paragraph or cell as quote.
//
// A mention is kept where the vocabulary lets a source document a thing of that kind.
// Cost: linear; the file is held in memory (at most 64 MiB).
#pragma once

#include "importers/claim_rows.h"
#include "importers/text_input.h"

namespace saggar {

void read_notes(TextInput& input, const ReadContext& context, Sink& sink, std::string default_source = {});

}  // namespace saggar
