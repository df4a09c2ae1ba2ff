// Writes a bag (RFC 8493): payload, bag-info.txt, manifests in SHA-512, and bagit.txt last, so that half a bag is none.
//
// `sha512sum -c manifest-sha512.txt` checks it. The order of lines is that of the paths: equal payloads give equal bags.
#pragma once

#include <cstdint>
#include <filesystem>
#include <functional>
#include <map>
#include <ostream>
#include <string>
#include <utility>
#include <vector>

namespace saggar {

struct BagContent {
    // Below data/: path to who writes the file.
    std::map<std::string, std::function<void(std::ostream&)>> written;
    // Below data/: path to the file that is copied.
    std::map<std::string, std::filesystem::path> copied;
    // Lines of bag-info.txt, without Payload-Oxum.
    std::vector<std::pair<std::string, std::string>> info;
};

struct BagReport {
    std::uint64_t files = 0;  // of the payload
    std::uint64_t bytes = 0;
};

// Makes `target`, which must not exist or be empty. UsageFault where it is not, or a path would leave data/; StoreFault where
// it cannot be written.
BagReport write_bag(const std::filesystem::path& target, const BagContent& content);

}  // namespace saggar
