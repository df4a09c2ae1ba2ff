#include <iostream>

#include "app/args.h"

int main(int argc, char** argv) {
    std::ios::sync_with_stdio(false);
    return saggar::app::run(std::vector<std::string>(argv + 1, argv + argc), std::cout, std::cerr);
}
