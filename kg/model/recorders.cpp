#include "kg/model/recorders.h"

#include <algorithm>
#include <set>

namespace saggar {
namespace {

constexpr std::string_view separator = "; ";

// "Ann (2026-03-02)"; a text of several stays as it is.
std::set<std::string> each_of(const std::string& by, const std::string& on) {
    std::set<std::string> names;
    if (by.empty()) return names;
    std::size_t at = 0;
    for (std::size_t end = by.find(separator); end != std::string::npos; end = by.find(separator, at)) {
        names.insert(by.substr(at, end - at));
        at = end + separator.size();
    }
    const bool dated = at != 0 || on.empty() || by.back() == ')';
    names.insert(dated ? by.substr(at) : by + " (" + on + ")");
    return names;
}

}  // namespace

bool add_recorder(std::string& by, std::string& on, const std::string& other_by, const std::string& other_on) {
    if (other_by.empty() || (by == other_by && on == other_on)) return false;
    if (by.empty()) {
        by = other_by;
        on = other_on;
        return true;
    }
    std::set<std::string> names = each_of(by, on);
    const std::size_t before = names.size();
    names.merge(each_of(other_by, other_on));
    if (names.size() == before) return false;
    by.clear();
    for (const std::string& name : names) by += (by.empty() ? "" : std::string(separator)) + name;
    if (on.empty() || (!other_on.empty() && other_on < on)) on = other_on;
    return true;
}

}  // namespace saggar
