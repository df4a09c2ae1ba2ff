// A source as a bibliography sees it: CSL variables with texts, and our own fields beside them. What CSL-JSON, BibTeX and RIS
// have in common, reading and writing.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "importers/sink.h"
#include "kg/model/vocabulary.h"

namespace saggar {

// A name of a person or a body.
struct BibName {
    std::string family;
    std::string given;
    std::string literal;  // a body, or a name whose parts are not told; then the others are empty
    std::string suffix = {};  // "Jr."
    bool operator==(const BibName&) const = default;
};

// "Family, Given; Family, Given, Jr.; A Body": our way to write authors. A name with exactly one comma has two parts.
std::vector<BibName> names_of_author(std::string_view author);
std::string author_of_names(const std::vector<BibName>& names);

// Names as Source::more keeps them for editors and the like: [{"family":...,"given":...},{"literal":...}].
std::vector<BibName> names_of_json(std::string_view json);
std::string json_of_names(const std::vector<BibName>& names);

struct BibItem {
    std::string id;
    std::string type;  // of CSL
    std::vector<BibName> authors;
    std::string author_parts;  // the authors as JSON names, where those have more parts than a text gives back
    std::string issued;  // EDTF
    // CSL variables (texts; names as JSON), sorted by name, without type, author and issued.
    std::vector<std::pair<std::string, std::string>> variables;
    // Our own fields that CSL has no variable for, by the names of the columns of `sources`, sorted.
    std::vector<std::pair<std::string, std::string>> own;
    bool is_private = false;
};

BibItem bib_item_of(const Source& source);

// Gathers one source from variables and own fields.
class BibSource {
public:
    BibSource(std::string_view id, const Vocabulary& vocabulary);

    // False: no key can be made of the id.
    bool has_key() const { return !source_.key.empty(); }
    void set_type(std::string_view csl_type);
    void set_authors(const std::vector<BibName>& names) { source_.author = author_of_names(names); }
    // EDTF or as people write; what cannot be read stays among the variables, with a warning at the origin's "issued". Where
    // the format says that it is EDTF, "2001-21" is a spring.
    void set_issued(std::string_view text, const Origin& origin, Problems& problems, bool is_edtf = false);
    void set_variable(std::string_view name, std::string_view text);
    // One of our own columns; problems at the origin's place of that name. False: it is none, or cannot be read.
    bool set_own(std::string_view column, std::string_view text, const Origin& origin, Problems& problems);
    Source finish();

private:
    Source source_;
};

// A year and one of EDTF's seasons 21 to 24, in a field that EDTF is meant for; as people write it could be a run of years.
bool is_season(std::string_view text);

// The type of CSL for one of our evidence kinds ("letter" -> "personal_communication"); "document" where none fits.
std::string_view csl_type_of_kind(std::string_view type);

}  // namespace saggar
