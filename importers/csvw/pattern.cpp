#include "importers/csvw/pattern.h"

#include <fmt/format.h>
#include <unicode/regex.h>

namespace saggar::csvw {
namespace {

constexpr int32_t match_steps = 2000;  // ICU counts about a millisecond each
constexpr int32_t match_stack_bytes = 4 << 20;

class IcuPattern final : public Pattern {
public:
    IcuPattern(std::string text, std::unique_ptr<icu::RegexPattern> pattern)
        : text_(std::move(text)), pattern_(std::move(pattern)) {}

    bool matches(std::string_view value, std::string& why) const override {
        UErrorCode status = U_ZERO_ERROR;
        const icu::UnicodeString input =
            icu::UnicodeString::fromUTF8(icu::StringPiece(value.data(), static_cast<int32_t>(value.size())));
        const std::unique_ptr<icu::RegexMatcher> matcher(pattern_->matcher(input, status));
        if (U_FAILURE(status)) {
            why = "the regular expression cannot be run";
            return false;
        }
        matcher->setTimeLimit(match_steps, status);
        matcher->setStackLimit(match_stack_bytes, status);
        const bool match = matcher->matches(status);
        if (U_FAILURE(status)) {
            why = fmt::format("the regular expression {} takes too long on it", text_);
            return false;
        }
        if (!match) why = fmt::format("it does not match {}", text_);
        return match;
    }

private:
    std::string text_;
    std::unique_ptr<icu::RegexPattern> pattern_;
};

}  // namespace

std::shared_ptr<const Pattern> Pattern::compile(std::string_view text) {
    UErrorCode status = U_ZERO_ERROR;
    UParseError where;
    std::unique_ptr<icu::RegexPattern> pattern(icu::RegexPattern::compile(
        icu::UnicodeString::fromUTF8(icu::StringPiece(text.data(), static_cast<int32_t>(text.size()))), where, status));
    if (U_FAILURE(status) || !pattern) return nullptr;
    return std::make_shared<IcuPattern>(std::string(text), std::move(pattern));
}

}  // namespace saggar::csvw
