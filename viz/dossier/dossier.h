// A dossier: everything known about one thing, ready to be given out, with a footnote under every sentence.
//
// gather.cpp reads it from the graph, page.cpp writes it as one HTML page that needs nothing else, text.cpp as
// Markdown for pandoc, files.cpp puts the files together. The values here are plain; they outlive the
// snapshot.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "kg/model/record.h"
#include "kg/store/snapshot.h"
#include "queries/cite_notes.h"
#include "viz/diagram.h"

namespace saggar {
class Weigher;
}

namespace saggar::viz {

struct DossierSentence {
    std::string text;    // a sentence, with its full stop
    std::string group;   // claims of one relation and direction share it: "Pinnace comprises"
    std::string item;    // what is left of the sentence in such a group: "toast rack"
    std::string weight;  // "likely, 0.61"; "open: support 0.30, possibility 0.95"; "no single figure: …"
    std::string key;     // claim id
    std::vector<int> cited_for, cited_against;
    bool disputed = false;
    std::string ruling;  // empty: none
};

struct DossierSection {
    std::string heading;
    std::vector<DossierSentence> sentences;
};

// Views that cannot hold together, or one claim with evidence both ways.
struct DossierDispute {
    std::string title;
    std::vector<DossierSentence> views;
};

struct DossierPicture {
    std::string name;  // stem of its files
    std::string title;
    std::string svg;
    std::string dot;  // empty: the picture is no graph
};

struct DossierSource {
    Source source;
    CitedText entry;   // in the bibliography
    std::string kept;  // where it is kept, in words; empty: not recorded
};

struct Dossier {
    std::string key, title, kind, also, remark;
    std::vector<DossierSection> sections;
    std::vector<DossierDispute> disputes;
    std::vector<std::string> unknown;  // what nothing is recorded on, in words
    std::vector<DossierPicture> pictures;
    std::vector<CitedText> notes;        // numbered from 1
    std::vector<DossierSource> sources;  // in bibliography order
    std::vector<std::string> cautions;
    std::string left_out;
    std::vector<std::string> colophon;  // graph, profile, the date it speaks for, what a weight is
};

struct DossierOptions {
    bool with_private = false;
    CiteStyle cite;
    std::string as_of;            // as the user gave it; empty: now
    std::size_t most_boxes = 40;  // in a picture, before boxes are put together
};

// Cost: the claims of the thing, their weighing, and a layout for each picture.
Dossier gather_dossier(const Snapshot& snapshot, Weigher& weigher, EntityId thing, const DossierOptions& options);

// The page: HTML 5, no script, no request to anywhere.
std::string dossier_page(const Dossier& dossier);
// Markdown for pandoc: footnotes, pictures/NAME.png, and a bibliography from sources.json.
std::string dossier_text(const Dossier& dossier);
// The sources as records for a bibliography program: names turned round, box and folder in one. The caller writes them as
// CSL-JSON (viz knows no file formats).
std::vector<Source> dossier_records(const Dossier& dossier);
// The id under which the text cites a source: its key without "source:".
std::string citation_key(std::string_view source_key);

// Sentences in order, those of one group together where it has at least this many.
inline constexpr std::size_t kGroupFrom = 5;
struct DossierGroup {
    std::string lead;  // empty: the one sentence stands by itself
    std::vector<const DossierSentence*> sentences;
};
// The groups point into the section.
std::vector<DossierGroup> groups_of(const DossierSection& section);

// All files by their path inside the dossier's folder: index.html, dossier.md, sources.json, pictures/*.svg, *.png,
// *.dot. `sources_json`: dossier_records() as CSL-JSON.
std::map<std::string, std::string> dossier_files(const Dossier& dossier, std::string sources_json);

}  // namespace saggar::viz
