#include "app/verb.h"

#include <fmt/format.h>

#include <charconv>

#include "kg/model/fault.h"

namespace saggar::app {
namespace {

template <typename Number>
Number parsed(const std::string& option, const std::string& text, Number least, Number most) {
    Number value{};
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc() || end != text.data() + text.size() || value < least || value > most)
        throw UsageFault(fmt::format("{} wants a number from {} to {}, not \"{}\"", option, least, most, text),
                         "give such a number");
    return value;
}

}  // namespace

std::string Call::get(const std::string& option, const std::string& fallback) const {
    const auto at = options.find(option);
    return at == options.end() || at->second.empty() ? fallback : at->second.back();
}

std::string Call::operand(const std::string& name) const {
    const auto at = operands.find(name);
    return at == operands.end() || at->second.empty() ? std::string() : at->second.front();
}

std::vector<std::string> Call::all(const std::string& name) const {
    const auto& where = name.compare(0, 2, "--") == 0 ? options : operands;
    const auto at = where.find(name);
    return at == where.end() ? std::vector<std::string>{} : at->second;
}

std::size_t Call::count(const std::string& option, std::size_t fallback, std::size_t least, std::size_t most) const {
    return has(option) ? parsed<std::size_t>(option, get(option), least, most) : fallback;
}

double Call::number(const std::string& option, double fallback, double least, double most) const {
    return has(option) ? parsed<double>(option, get(option), least, most) : fallback;
}

}  // namespace saggar::app
