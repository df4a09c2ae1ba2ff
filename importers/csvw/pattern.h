// Regular expressions from metadata (ECMAScript there; the common ground of it and ICU here), matched against whole
// values.
//
// Matching runs on ICU with its own stack and a step limit, so neither a hostile pattern nor a long value can hang or
// overflow. A pattern that exceeds the limit counts as not matching, with a reason.
#pragma once

#include <memory>
#include <string>
#include <string_view>

namespace saggar::csvw {

class Pattern {
public:
    // Null where the text is no regular expression.
    static std::shared_ptr<const Pattern> compile(std::string_view text);
    virtual ~Pattern() = default;

    // Whether the whole value matches; `why` tells where it does not. Thread-safe.
    virtual bool matches(std::string_view value, std::string& why) const = 0;
};

}  // namespace saggar::csvw
