// Sources cited as scholars expect: a full note, a short note for later mentions, a bibliography entry.
//
// The order and punctuation are those of the Chicago Manual of Style, 17th ed., notes and bibliography; papers in the
// order of its archival chapter: item, date, place in the item, box, folder, collection, repository, place. Every
// evidence kind has its pattern (cite_kind.h). What is not known is left out, nothing is guessed. Pure functions,
// thread-safe.
#pragma once

#include <string>

#include "kg/model/record.h"
#include "queries/cite_date.h"
#include "queries/cite_text.h"

namespace saggar {

struct CiteStyle {
    DateOrder dates = DateOrder::day_month;
    bool ibid = false;  // used by Notes (cite_notes.h)
};

// "George Creel to Colonel House, 25 September 1918, box 31, folder 986, Edward Mandell House Papers, Yale University
// Library." `at`: where in the source (see cite_locator.h), `quote`: the words; both may be empty.
CitedText full_note(const Source& source, std::string_view at = {}, std::string_view quote = {},
                    const CiteStyle& style = {});

// "Creel to House, 25 September 1918, Edward Mandell House Papers."
CitedText short_note(const Source& source, std::string_view at = {}, std::string_view quote = {},
                     const CiteStyle& style = {});

// Either of them without quotation and full stop, so that words may follow it.
CitedText open_note(const Source& source, std::string_view at, bool brief, const CiteStyle& style);

// "Creel, George. Letter to Colonel House, 25 September 1918. Box 31, folder 986. Edward Mandell House Papers. …"
CitedText bibliography_entry(const Source& source, const CiteStyle& style = {});

// What a bibliography is sorted by: the entry's words, folded, without leading article or quotation mark.
std::string bibliography_order(const Source& source);

// What a source is called in a picture or a table: "Ennersley, working journal no. 5", "Wrenholt to Ennersley",
// without its date.
std::string source_name(const Source& source);

// The title shortened as a short note has it: no subtitle, no leading article, at most four words, not cut in the
// middle of a phrase.
std::string short_title(std::string_view title, std::size_t most_words = 4);

}  // namespace saggar
