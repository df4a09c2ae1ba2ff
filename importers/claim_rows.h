// Rows of a claims table into records.
//
// Each row is one reading: a claim with the evidence for or against it; or a list, a silence, an argument (see `stance`
// in FORMATS.md). Used by tables in files and by tables in notes.
#pragma once

#include <functional>
#include <string>
#include <unordered_map>
#include <vector>

#include "importers/claim_words.h"
#include "importers/named_columns.h"

namespace saggar {

class Profile;

// What importers know of the graph they read for.
struct ReadContext {
    const Vocabulary& vocabulary;
    std::string recorded_by;           // the author set for the graph: taken where a row names none
    const Profile* profile = nullptr;  // for hedges; null: the built-in one
    std::function<std::string(const std::string& key)> label_of = {};  // that the graph has already; may be none
};

class ClaimRows {
public:
    enum Column : std::size_t {
        subject,
        relation,
        object,
        stance,
        when,
        scope,
        source,
        at,
        quote,
        certainty,
        reading,
        mention,
        completeness,
        corrects,
        premises,
        strength,
        reason,
        recorded_by,
        recorded_on,
        remark,
        private_,
        column_count
    };
    static std::span<const std::string_view> column_names();

    // `source`: the key of the source where a row names none; empty: every row must.
    ClaimRows(const ReadContext& context, Sink& sink, Problems& problems, std::string default_source = {});

    // False: the header is wrong, do not go on.
    bool header(const CellRow& row);
    void row(const CellRow& row);
    void set_default_source(std::string key) { default_source_ = std::move(key); }

private:
    enum class Way : std::uint8_t { in_favour, against, lists_all, silent, argued, argued_against };

    bool read_stance(const CellRow& row, const RowOrigin& origin, Way& way);
    bool check_columns(const CellRow& row, const RowOrigin& origin, Way way);
    void put_evidence(const CellRow& row, const RowOrigin& origin, Way way);
    void put_claim(Claim claim, const CellRow& row, const RowOrigin& origin);
    void put_listing(const CellRow& row, const RowOrigin& origin);
    void put_argument(const CellRow& row, const RowOrigin& origin, Way way);
    std::optional<Claim> read_claim(const CellRow& row, const RowOrigin& origin);
    std::optional<std::string> read_source(const CellRow& row, const RowOrigin& origin);
    bool read_chance(const CellRow& row, const RowOrigin& origin, Column column, double& chance);
    bool read_corrects(const CellRow& row, const RowOrigin& origin, Evidence& evidence);
    bool read_premises(const CellRow& row, const RowOrigin& origin, std::vector<ContentId>& premises);
    template <class R>
    bool read_recording(const CellRow& row, const RowOrigin& origin, R& record);
    bool wrong(const RowOrigin& origin, Column column, std::string id, std::string message, std::string next);
    std::string_view trimmed(const CellRow& row, Column column) const;

    // Earlier evidence by source and place in it, for `corrects`; kept only where the table has that column.
    struct Earlier {
        ContentId id;
        std::string subject;
        std::string relation;
    };

    const ReadContext& context_;
    Sink& sink_;
    Problems& problems_;
    std::string default_source_;
    NamedColumns columns_;
    std::unordered_map<std::string, std::vector<Earlier>> earlier_;
};

// "yes" or nothing; anything else is a problem at `field`.
std::optional<bool> read_yes(std::string_view text, std::string_view field, const Origin& origin, Problems& problems);

// A key, or a bare slug of kind `source`.
std::optional<std::string> read_source_key(std::string_view text, std::string_view field, const Origin& origin,
                                           Problems& problems);

}  // namespace saggar
