// Records as rows of our own three tables (RFC 4180), so that own_table.h reads them back; and CSVW metadata that tells
// other programs what the columns are.
//
// What rows cannot say is not written: see "Tables out" in FORMATS.md.
#pragma once

#include <optional>
#include <ostream>
#include <string>
#include <vector>

#include "kg/model/record.h"

namespace saggar {

// Writes the header at once. Not thread-safe; the stream must outlive it.
class EntityTableWriter {
public:
    explicit EntityTableWriter(std::ostream& out);
    // Without outside identifiers and the label's language.
    void put(const Entity& entity);

private:
    std::ostream& out_;
};

class SourceTableWriter {
public:
    explicit SourceTableWriter(std::ostream& out);
    // Without the further CSL fields.
    void put(const Source& source);

private:
    std::ostream& out_;
};

class ClaimTableWriter {
public:
    explicit ClaimTableWriter(std::ostream& out);
    // The claim is the one the evidence speaks of.
    void put(const Claim& claim, const Evidence& evidence);
    void put(const Listing& listing);
    // The claim is the conclusion. `premises`: for each an id, or for a claim that no other row speaks of its words.
    void put(const Claim& claim, const Argument& argument, const std::vector<std::string>& premises);

private:
    std::ostream& out_;
};

// "shape:tern comprises article:tureen", as the column `premises` takes it; nothing where a claim has a scope, a time or a value.
std::optional<std::string> claim_in_words(const Claim& claim);

enum class OwnTable : std::uint8_t { entities, sources, claims };

// "entities.csv"; its metadata stand in "entities.csv-metadata.json".
std::string own_table_file(OwnTable table);
// A W3C CSVW document for the table.
std::string own_table_metadata(OwnTable table, const std::string& language);

}  // namespace saggar
