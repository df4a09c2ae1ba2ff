// Any bytes into the readers of dates: they must not crash, and what they promise must hold.
//
//   EDTF: what is read is written and read back as the same value; bounds are in order; an error stands inside the text.
//   Written dates: what is read gives EDTF that can be read, with words from the text; an error stands inside the text.
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "kg/time/bounds.h"
#include "kg/time/edtf_read.h"
#include "kg/time/edtf_write.h"
#include "kg/time/written.h"

using namespace saggar::time;

namespace {

void must(bool holds) {
    if (!holds) __builtin_trap();
}

void check_error(const ReadError& error, std::string_view text) {
    must(error.offset <= text.size() && error.length <= text.size() - error.offset);
    must(!error.id.empty() && !error.reason.empty() && !error.next_step.empty());
}

void check_bounds(const Bounds& bounds) {
    must(bounds.earliest_start.day <= bounds.latest_start.day);
    must(bounds.earliest_end.day <= bounds.latest_end.day);
    must(bounds.earliest_start.day <= bounds.earliest_end.day);
    must(bounds.latest_start.day <= bounds.latest_end.day);
}

void check_edtf(std::string_view text) {
    const auto edtf = read_edtf(text);
    if (!edtf) return check_error(edtf.error, text);
    const auto again = read_edtf(write_edtf(*edtf));
    must(again && *again == *edtf);
    check_bounds(bounds_of(*edtf));
    check_bounds(bounds_of(*edtf, {Hemisphere::south, SeasonYear::either, 7}));
}

void check_written(std::string_view text) {
    const auto dates = read_written(text);
    if (!dates) return check_error(dates.error, text);
    must(!dates->empty());
    for (const auto& date : *dates) {
        must(static_cast<bool>(read_edtf(date.edtf)));
        must(text.substr(date.offset, date.words.size()) == date.words);
    }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text(reinterpret_cast<const char*>(data), size);
    check_edtf(text);
    check_written(text);
    return 0;
}
