#include "importers/line_input.h"

#include <fmt/format.h>

namespace saggar {

bool LineInput::next(std::string_view& line) {
    input_.consume(pending_);
    pending_ = 0;
    std::size_t searched = 0;
    for (;;) {
        const std::string_view window = input_.window();
        const std::size_t end = window.find('\n', searched);
        if (end != std::string_view::npos || (at_end_ && !window.empty())) {
            line = window.substr(0, end);
            pending_ = end == std::string_view::npos ? window.size() : end + 1;
            if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
            return true;
        }
        if (at_end_) return false;
        if (window.size() > input_.limits().piece_bytes) {
            input_.problems().add({"text-long-line", Severity::error, Place{input_.name(), input_.line(), 1, "", 0},
                                   fmt::format("the line is longer than {} bytes", input_.limits().piece_bytes),
                                   "check that the file is what you meant to read"});
            return false;
        }
        searched = window.size();
        at_end_ = !input_.more();
    }
}

}  // namespace saggar
