#include "importers/bag/sha256_file.h"

#include <fmt/format.h>
#include <sodium.h>

#include <fstream>

#include "kg/model/fault.h"

namespace saggar {

std::string sha256_of_file(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    if (!in) throw UsageFault("cannot read " + file.string(), "check the name and the permissions");
    crypto_hash_sha256_state state;
    crypto_hash_sha256_init(&state);
    std::string buffer(1 << 20, '\0');
    while (in.read(buffer.data(), static_cast<std::streamsize>(buffer.size())), in.gcount() > 0)
        crypto_hash_sha256_update(&state, reinterpret_cast<const unsigned char*>(buffer.data()),
                                  static_cast<unsigned long long>(in.gcount()));
    unsigned char hash[crypto_hash_sha256_BYTES];
    crypto_hash_sha256_final(&state, hash);
    std::string out;
    for (const unsigned char byte : hash) out += fmt::format("{:02x}", byte);
    return out;
}

}  // namespace saggar
