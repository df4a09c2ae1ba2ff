#include "kg/model/sha512.h"

#include <sodium.h>

#include <cstdio>

#include "kg/model/fault.h"

namespace saggar {
namespace {

// FIPS 180-4, 5.3.6: the words SHA-512/t begins from are the SHA-512 of its name, begun from changed words.
crypto_hash_sha512_state begin_cut_to_256() {
    crypto_hash_sha512_state maker;
    crypto_hash_sha512_init(&maker);
    for (auto& word : maker.state) word ^= 0xa5a5a5a5a5a5a5a5u;
    constexpr std::string_view name = "SHA-512/256";
    crypto_hash_sha512_update(&maker, reinterpret_cast<const unsigned char*>(name.data()), name.size());
    unsigned char bytes[crypto_hash_sha512_BYTES];
    crypto_hash_sha512_final(&maker, bytes);
    crypto_hash_sha512_state begun;
    crypto_hash_sha512_init(&begun);
    for (std::size_t i = 0; i < 8; ++i) {
        begun.state[i] = 0;
        for (std::size_t k = 0; k < 8; ++k) begun.state[i] = begun.state[i] << 8 | bytes[8 * i + k];
    }
    return begun;
}

}  // namespace

struct Sha512::State {
    crypto_hash_sha512_state hash;
};

Sha512::Sha512(Kind kind) : state_(std::make_unique<State>()), kind_(kind) {
    if (kind_ == Kind::cut_to_256) {
        static const crypto_hash_sha512_state begun = begin_cut_to_256();
        state_->hash = begun;
    } else {
        crypto_hash_sha512_init(&state_->hash);
    }
}

Sha512::Sha512(Sha512&&) noexcept = default;
Sha512::~Sha512() = default;

void Sha512::feed(std::string_view bytes) {
    crypto_hash_sha512_update(&state_->hash, reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size());
}

std::string Sha512::finish() {
    unsigned char bytes[crypto_hash_sha512_BYTES];
    crypto_hash_sha512_final(&state_->hash, bytes);
    const std::size_t length = kind_ == Kind::whole ? 64 : 32;
    std::string out;
    out.reserve(2 * length);
    for (std::size_t i = 0; i < length; ++i) {
        out += "0123456789abcdef"[bytes[i] >> 4];
        out += "0123456789abcdef"[bytes[i] & 15];
    }
    return out;
}

std::string sha512_of_file(const std::filesystem::path& file, Sha512::Kind kind) {
    std::FILE* in = std::fopen(file.c_str(), "rb");
    if (!in) throw UsageFault("cannot read " + file.string(), "check the name and the permissions");
    Sha512 hash(kind);
    std::string buffer(1 << 20, '\0');
    while (const std::size_t got = std::fread(buffer.data(), 1, buffer.size(), in))
        hash.feed(std::string_view(buffer).substr(0, got));
    const bool failed = std::ferror(in) != 0;
    std::fclose(in);
    if (failed) throw UsageFault("cannot read " + file.string(), "check the disk");
    return hash.finish();
}

}  // namespace saggar
