// SHA-256 (FIPS 180-4) of a file: bags that others pack may have no other checksum (RFC 8493, section 2.4).
#pragma once

#include <filesystem>
#include <string>

namespace saggar {

// Lower-case hexadecimal. UsageFault where the file cannot be read.
std::string sha256_of_file(const std::filesystem::path& file);

}  // namespace saggar
