Console.WriteLine("demo");
