#include "cut_words.h"
