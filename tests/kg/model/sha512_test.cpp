#include "kg/model/sha512.h"

#include <catch2/catch.hpp>

#include <cstdio>
#include <fstream>

#include "kg/model/fault.h"
#include "tests/kg/store/temporary_folder.h"

using namespace saggar;

namespace {

std::string hash_of(std::string_view bytes, Sha512::Kind kind) {
    Sha512 hash(kind);
    hash.feed(bytes);
    return hash.finish();
}

std::string said_by(const std::string& command) {
    std::FILE* pipe = ::popen(command.c_str(), "r");
    std::string text;
    char buffer[256];
    while (const std::size_t got = std::fread(buffer, 1, sizeof buffer, pipe)) text.append(buffer, got);
    ::pclose(pipe);
    return text;
}

}  // namespace

TEST_CASE("SHA-512 of the example of FIPS 180-4 is as published") {
    // RFC 6234, section 8.5, test 1 of SHA-512 ("abc"); the same as the example files of FIPS 180-4.
    CHECK(hash_of("abc", Sha512::Kind::whole) ==
          "ddaf35a193617abacc417349ae20413112e6fa4e89a97ea20a9eeee64b55d39a"
          "2192992a274fc1a836ba3c23a3feebbd454d4423643ce80e2a9ac94fa54ca49f");
}

TEST_CASE("both hashes are those of Python's hashlib") {
    testing::TemporaryFolder folder;
    const std::string file = (folder.path() / "bytes").string();
    std::string bytes;
    for (const std::size_t size : {0u, 1u, 111u, 112u, 127u, 128u, 129u, 4096u, 3'000'001u}) {
        while (bytes.size() < size) bytes += static_cast<char>(bytes.size() * 131 + bytes.size() / 251);
        std::ofstream(file, std::ios::binary) << bytes;
        for (const auto& [kind, name] : {std::pair(Sha512::Kind::whole, "sha512"), std::pair(Sha512::Kind::cut_to_256, "sha512_256")}) {
            const std::string expected =
                said_by("/usr/bin/python3 -c \"import hashlib; print(hashlib.new('" + std::string(name) + "', open('" + file +
                        "','rb').read()).hexdigest(), end='')\"");
            CHECK(hash_of(bytes, kind) == expected);
            CHECK(sha512_of_file(file, kind) == expected);
        }
    }
    CHECK_THROWS_AS(sha512_of_file(folder.path() / "none", Sha512::Kind::whole), UsageFault);
}
