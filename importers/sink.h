// Where importers put what they read.
//
// An importer streams records into a Sink and never sees the graph. The sink may refuse a record; it says so by adding
// a problem at the place the importer gave.
#pragma once

#include <filesystem>
#include <string_view>
#include <utility>
#include <vector>

#include "kg/model/problem.h"
#include "kg/model/record.h"
#include "kg/model/record_json.h"

namespace saggar {

// Where a record stands in its file. Lives only during the call that gets it. Places are worked out only when asked
// for, so a file without problems does not pay for them.
class Origin {
public:
    virtual ~Origin() = default;

    // The first line of the record, from 1; 0: the file has no lines.
    virtual std::uint32_t line() const = 0;

    // The place of a field, by its name in record.h ("subject", "object", "when", ...); the place of the whole record
    // for a field that is not written there, and for "".
    virtual Place place_of(std::string_view field) const = 0;
};

// A record whose fields have no places of their own.
class PlainOrigin final : public Origin {
public:
    explicit PlainOrigin(Place place) : place_(std::move(place)) {}
    std::uint32_t line() const override { return place_.line; }
    Place place_of(std::string_view) const override { return place_; }

private:
    Place place_;
};

// A record whose fields stand on lines of their own.
class FieldPlaces final : public Origin {
public:
    void set_whole(Place place) { whole_ = std::move(place); }
    void set(std::string field, Place place) { places_.emplace_back(std::move(field), std::move(place)); }
    std::uint32_t line() const override { return whole_.line; }
    Place place_of(std::string_view field) const override {
        for (const auto& [name, place] : places_) {
            if (name == field) return place;
        }
        return whole_;
    }

private:
    Place whole_;
    std::vector<std::pair<std::string, Place>> places_;
};

// A picture in a file, with the hash its source names (kg/store/media.h).
struct PictureFile {
    std::filesystem::path path;
    std::string hash;
};

// Not thread-safe; one importer writes to it.
class Sink {
public:
    virtual ~Sink() = default;

    virtual void put(Record record, const Origin& origin) = 0;

    // The records that follow were written by this entry of the history. Only our own JSON Lines carry history.
    // A sink that makes one entry of its own for the whole file has no use for it.
    virtual void begin_entry(EntryHeader, const Origin&) {}

    // From here on the graph has this vocabulary or profile. Only our own JSON Lines carry documents.
    virtual void document(DocumentLine, const Origin&) {}

    // A picture that a source names by its checksum, to be kept with the graph. Only folders and bags carry pictures.
    virtual void picture(PictureFile, const Origin&) {}
};

}  // namespace saggar
