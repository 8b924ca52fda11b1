#!/usr/bin/env node
import '../dist/ohmstead.js';
