// Lines of the file fetched again when a problem wants to show one: what has no problem costs nothing.
//
// Reads from the line it stands at, or from the start where the line lies behind it. Not thread-safe.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <string_view>

#include "importers/line_input.h"
#include "importers/rdf/byte_feed.h"
#include "importers/sink.h"

namespace saggar::rdf {

class SourceLines {
public:
    using Open = std::function<std::unique_ptr<ByteSource>()>;

    SourceLines(std::string name, Open open) : name_(std::move(name)), open_(std::move(open)) {}

    // The place of `slice` in the line of the spot, where the line holds it; else of the word at the spot. line 0: the whole file.
    Place place(const Spot& spot, std::string_view slice = {}) const;

private:
    std::string_view line(std::uint32_t number) const;

    std::string name_;
    Open open_;
    mutable Problems untold_{0};
    mutable std::unique_ptr<TextInput> input_;
    mutable std::unique_ptr<LineInput> lines_;
    mutable std::uint32_t at_ = 0;
    mutable std::string line_;
};

// A record read from one statement.
class SpotOrigin final : public Origin {
public:
    SpotOrigin(const SourceLines& lines, Spot spot, std::string slice = {})
        : lines_(lines), spot_(spot), slice_(std::move(slice)) {}
    std::uint32_t line() const override { return spot_.line; }
    Place place_of(std::string_view) const override { return lines_.place(spot_, slice_); }

private:
    const SourceLines& lines_;
    Spot spot_;
    std::string slice_;
};

}  // namespace saggar::rdf
