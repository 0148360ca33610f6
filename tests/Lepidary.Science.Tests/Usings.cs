global using CsCheck;
global using Lepidary.Science.Counts;
global using Xunit;
