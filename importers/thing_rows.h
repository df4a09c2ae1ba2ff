// Rows of the tables `entities` and `sources` into records. The columns are in FORMATS.md.
#pragma once

#include "importers/claim_rows.h"

namespace saggar {

class EntityRows {
public:
    enum Column : std::size_t { key, kind, label, also, remark, image, private_, column_count };
    static std::span<const std::string_view> column_names();

    EntityRows(Sink& sink, Problems& problems);
    bool header(const CellRow& row);
    void row(const CellRow& row);

private:
    Sink& sink_;
    Problems& problems_;
    NamedColumns columns_;
};

class SourceRows {
public:
    enum Column : std::size_t {
        key,
        title,
        type,
        grade,
        reliability,
        family,
        family_kind,
        copied_from,
        dependence,
        tolerance,
        issued,
        author,
        archive,
        place,
        collection,
        box,
        folder,
        rights,
        url,
        private_,
        column_count
    };
    static std::span<const std::string_view> column_names();

    SourceRows(Sink& sink, Problems& problems);
    bool header(const CellRow& row);
    void row(const CellRow& row);

private:
    Sink& sink_;
    Problems& problems_;
    NamedColumns columns_;
};

// Sets one field of a source by its column name, from words. A problem, and false, where the words do not fit; false
// without a problem where no column has this name. `key` and `private` are not set here.
bool set_source_field(Source& source, std::string_view column, std::string_view text, const Origin& origin,
                      Problems& problems);
bool is_source_column(std::string_view column);

// Puts the further fields of a source in order; of a name that stands twice the texts are joined by "; ".
void settle_more(Source& source);

// "Laterne@de": other names separated by ";", each perhaps with a language tag (BCP 47) behind "@".
std::vector<Name> read_other_names(std::string_view text);

}  // namespace saggar
